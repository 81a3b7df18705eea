#include "case/strap_request.hpp"

#include <fmt/format.h>

#include <array>

#include "case/nearest_name.hpp"

namespace rimload {

namespace {

constexpr std::array nasal_words{StrapWord::loose, StrapWord::appropriate, StrapWord::tight};
constexpr std::array window_words{StrapWord::below_window, StrapWord::in_window,
                                  StrapWord::above_window};

std::optional<StrapWord> word_named(const std::string& name) {
  for (const auto& words : {nasal_words, window_words}) {
    for (const StrapWord word : words) {
      if (name_of(word) == name) return word;
    }
  }
  return std::nullopt;
}

bool is_nasal_word(StrapWord word) {
  return word == StrapWord::loose || word == StrapWord::appropriate || word == StrapWord::tight;
}

std::string wrong_word(StrapWord word, CushionType type) {
  if (type == CushionType::nasal) {
    return fmt::format(
        "'{}' is for masks other than nasal; for a nasal mask give loose, "
        "appropriate or tight (published total forces), or tension_N",
        name_of(word));
  }
  return fmt::format(
      "'{}' is a total force published for nasal masks and says nothing of a{} {} "
      "mask; give below_window, in_window or above_window, or tension_N",
      name_of(word), type == CushionType::oronasal ? "n" : "", words_for(type));
}

// One tension a strap from a map by pair ('upper') or strap ('upper_left').
std::vector<double> tensions_by_name(const JsonPlace& place, const Cushion& cushion,
                                     std::vector<Fault>& faults) {
  struct Wanted {
    std::string pair, strap;
    std::optional<double> tension_n;
  };
  std::vector<Wanted> wanted;
  std::vector<std::string> names;
  for (const StrapPair& pair : cushion.straps) {
    wanted.push_back({pair.name, pair.name + "_left", std::nullopt});
    wanted.push_back({pair.name, pair.name + "_right", std::nullopt});
    names.insert(names.end(), {pair.name, pair.name + "_left", pair.name + "_right"});
  }
  for (const auto& [key, value] : place.members()) {
    bool known = false;
    for (Wanted& each : wanted) {
      if (key != each.pair && key != each.strap) continue;
      known = true;
      if (each.tension_n) {
        faults.push_back(
            {"", value.pointer(), in_quotes(each.strap) + " is given a tension twice"});
      }
      each.tension_n = value.number().value_or(0);
    }
    if (!known) {
      faults.push_back({"", value.pointer(),
                        fmt::format("the headgear of {} has no strap {}{}", in_quotes(cushion.name),
                                    in_quotes(key), name_hint(key, names))});
    }
  }
  std::vector<double> out;
  for (const Wanted& each : wanted) {
    if (!each.tension_n) {
      faults.push_back(
          {"", place[each.strap].pointer(),
           "missing; needed: a number, 0 to 30 N, or one for the pair " + in_quotes(each.pair)});
    }
    out.push_back(each.tension_n.value_or(0));
  }
  return out;
}

}  // namespace

StrapWord usual_strap_word(CushionType type) {
  return type == CushionType::nasal ? StrapWord::appropriate : StrapWord::in_window;
}

StrapRequest read_straps(const JsonPlace& straps, const std::optional<Cushion>& cushion,
                         std::vector<Fault>& faults) {
  const JsonPlace tension = straps["tension_N"];
  const JsonPlace setting = straps["setting"];
  if (tension.present() && setting.present()) {
    faults.push_back({"", straps.pointer(), "give tension_N or setting, not both"});
  }
  StrapRequest request;
  if (const auto name = setting.text()) request.word = word_named(*name);
  if (!cushion) return request;
  if (request.word && is_nasal_word(*request.word) != (cushion->type == CushionType::nasal)) {
    faults.push_back({"", setting.pointer(), wrong_word(*request.word, cushion->type)});
  }
  if (const auto all = tension.number()) {
    request.tension_n.assign(2 * cushion->straps.size(), *all);
  } else if (!tension.members().empty()) {
    request.tension_n = tensions_by_name(tension, *cushion, faults);
  }
  return request;
}

}  // namespace rimload
