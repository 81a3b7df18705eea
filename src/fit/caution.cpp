#include "fit/caution.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "fit_data.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

using nlohmann::json;

const json& words() {
  static const json table = json::parse(data::cautions_json());
  return table;
}

const json& words_of(std::string_view key) {
  const json& all = words().at("cautions");
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const json& row) { return row.at("key") == key; });
  if (found == all.end()) throw InternalError("cautions.json has no words for " + std::string(key));
  return *found;
}

// The circuit of a vented mask, or one with valves of its own, is no matter of rebreathing.
std::optional<bool> rebreathing(const Case& input) {
  if (input.cushion.vented) return false;
  if (input.circuit == Circuit::not_named) return std::nullopt;
  return input.circuit == Circuit::single_limb_passive;
}

std::optional<bool> near_magnets(const Case& input) {
  return input.cushion.magnets ? input.safety.implant_near_magnets : false;
}

bool breathes_past_a_nasal_mask(const Case& input) {
  return input.cushion.type == CushionType::nasal && input.mouth == MouthOpening::mouth_breather;
}

// One caution a place where skin is injured; not asked when nobody looked.
void add_skin(const SafetyAnswers& safety, std::vector<Caution>& out) {
  const json& row = words_of("injured_skin");
  for (const SidedSite& place : safety.injured_sites) {
    std::string text = row.at("yes");
    const std::string mark = "{place}";
    text.replace(text.find(mark), mark.size(), place_words(place));
    out.push_back({"injured_skin", std::move(text), true, true});
  }
  if (safety.injured_sites.empty() && !safety.skin_checked.value_or(false)) {
    out.push_back(
        {"injured_skin", row.at("not_asked").get<std::string>() + ": not checked.", false, false});
  }
}

}  // namespace

std::string place_words(const SidedSite& place) {
  std::string text(words_for(place.site));
  if (place.side != Side::midline) text += " (" + std::string(name_of(place.side)) + ")";
  return text;
}

std::vector<Caution> cautions_for(const Case& input) {
  const SafetyAnswers& safety = input.safety;
  struct Question {
    const char* key;
    std::optional<bool> answer;
  };
  std::vector<Caution> out;
  for (const auto& [key, answer] :
       {Question{"vomiting", safety.vomiting_likely},
        Question{"airway_unprotected", safety.airway_unprotected},
        Question{"altered_mental_state", safety.altered_mental_state},
        Question{"facial_injury_or_surgery", safety.facial_injury_or_surgery},
        Question{"cannot_remove_mask", safety.cannot_remove_mask},
        Question{"rebreathing", rebreathing(input)}, Question{"magnets", near_magnets(input)},
        Question{"loose_dentures", input.dentures == Dentures::loose},
        Question{"mouth_breather_nasal", breathes_past_a_nasal_mask(input)}}) {
    if (answer == false) continue;
    const json& row = words_of(key);
    if (answer) {
      out.push_back({key, row.at("yes"), true, true});
    } else {
      out.push_back({key, row.at("not_asked").get<std::string>() + ": not checked.", false, false});
    }
  }
  add_skin(safety, out);
  std::stable_sort(out.begin(), out.end(),
                   [](const Caution& a, const Caution& b) { return a.stop && !b.stop; });
  for (const json& row : words().at("standing")) {
    out.push_back({row.at("key"), row.at("text"), false, true});
  }
  return out;
}

}  // namespace rimload
