#include "skin/skin_modifier.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "skin_data.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

using nlohmann::json;

struct ModifierRow {
  std::string words;
  SkinWeakening weakening;
};

ModifierRow read_modifier(const json& row) {
  ModifierRow out{row.at("words"), {}};
  if (row.contains("bears")) out.weakening.bears = row.at("bears").at("value").get<double>();
  if (row.contains("shear")) out.weakening.shear = row.at("shear").at("value").get<double>();
  if (!(0 < out.weakening.bears && out.weakening.bears <= 1 && out.weakening.shear >= 1)) {
    throw InternalError("skin-modifiers.json: " + out.words + " would make skin bear more");
  }
  return out;
}

const ModifierRow& modifier_row(std::string_view name) {
  static const auto table = [] {
    std::map<std::string, ModifierRow, std::less<>> rows;
    const json file = json::parse(data::skin_modifiers_json());
    for (const char* list : {"modifiers", "moisture", "injuries"}) {
      for (const json& row : file.at(list)) {
        rows.emplace(row.at("key").get<std::string>(), read_modifier(row));
      }
    }
    return rows;
  }();
  const auto found = table.find(name);
  if (found == table.end()) {
    throw InternalError("skin-modifiers.json has no row " + std::string(name));
  }
  return found->second;
}

template <typename Kind, std::size_t count>
std::optional<Kind> kind_named(std::string_view name, const std::array<Kind, count>& all) {
  for (const Kind kind : all) {
    if (name_of(kind) == name) return kind;
  }
  return std::nullopt;
}

}  // namespace

std::string_view name_of(SkinModifier modifier) {
  switch (modifier) {
    case SkinModifier::poor_perfusion: return "poor_perfusion";
    case SkinModifier::oedema: return "oedema";
    case SkinModifier::fragile_skin: break;
  }
  return "fragile_skin";
}

std::string_view name_of(Moisture moisture) {
  switch (moisture) {
    case Moisture::dry: return "dry";
    case Moisture::moist: return "moist";
    case Moisture::wet: break;
  }
  return "wet";
}

std::string_view name_of(InjurySign sign) {
  switch (sign) {
    case InjurySign::broken_skin: return "broken_skin";
    case InjurySign::non_blanching_redness: return "non_blanching_redness";
    case InjurySign::mucosal_injury: return "mucosal_injury";
    case InjurySign::injured_skin: break;
  }
  return "injured_skin";
}

std::optional<SkinModifier> skin_modifier_named(std::string_view name) {
  return kind_named(name, skin_modifiers);
}
std::optional<Moisture> moisture_named(std::string_view name) {
  return kind_named(name, moistures);
}
std::optional<InjurySign> injury_sign_named(std::string_view name) {
  return kind_named(name, injury_signs);
}

const std::string& words_for(SkinModifier modifier) {
  return modifier_row(name_of(modifier)).words;
}
const std::string& words_for(Moisture moisture) { return modifier_row(name_of(moisture)).words; }
const std::string& words_for(InjurySign sign) { return modifier_row(name_of(sign)).words; }

SkinWeakening weakening_of(const SiteSkin& skin) {
  SkinWeakening out = modifier_row(name_of(skin.moisture)).weakening;
  if (skin.friction == FrictionUsed::as_moist) out.shear = 1;
  for (const SkinModifier modifier : skin_modifiers) {
    if (std::find(skin.modifiers.begin(), skin.modifiers.end(), modifier) == skin.modifiers.end()) {
      continue;
    }
    out.bears *= modifier_row(name_of(modifier)).weakening.bears;
  }
  return out;
}

}  // namespace rimload
