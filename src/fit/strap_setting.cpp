#include "fit/strap_setting.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "fit_data.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

constexpr double below_factor = 0.8;
constexpr double above_factor = 1.25;

bool is_nasal_word(StrapWord word) {
  return word == StrapWord::loose || word == StrapWord::appropriate || word == StrapWord::tight;
}

double total_force_n(StrapWord word) {
  static const auto table = nlohmann::json::parse(data::strap_words_json());
  return table.at("total_force_N").at(std::string(name_of(word))).at("value").get<double>();
}

StrapSetting nasal_setting(StrapWord word, const Case& input, const FaceInUse& face,
                           const Mask& mask) {
  const Pose placement = Trial(input, face, mask).placement();
  double along = 0;  // pull towards the face of 1 N in every strap
  for (const Strap& strap : mask.straps) {
    along -= (strap.exit_face - placement * strap.anchor_mask).normalized().z();
  }
  const double total = total_force_n(word);
  if (along <= 0) {
    throw InputError(input.file, "/cushion", "the straps of this cushion pull away from the face");
  }
  const double each = total / along;
  return {std::vector<double>(mask.straps.size(), each),
          fmt::format("'{}' is a total of {:.2f} N on the face (Duong 2021): {:.2f} N a strap",
                      name_of(word), total, each)};
}

StrapSetting window_setting(StrapWord word, const Case& input, const FaceInUse& face,
                            const Mask& mask) {
  const StrapWindow window = find_strap_window(input, face, mask);
  if (!window.seals) {
    return {std::vector<double>(mask.straps.size(), window.best_effort_n),
            fmt::format("no equal tension up to {:g} N seals; shown at {:.1f} N a strap, which comes "
                        "nearest",
                        strap_tension_limit_n, window.best_effort_n)};
  }
  double each = 0.5 * (window.sealing_n + window.upper_n);
  if (word == StrapWord::below_window) each = below_factor * window.sealing_n;
  if (word == StrapWord::above_window) each = above_factor * window.upper_n;
  return {std::vector<double>(mask.straps.size(), each),
          fmt::format("'{}': this case seals from {:.1f} N a strap and is too tight from {:.1f} N "
                      "({} 25 % above its just-sealed pressure, a convention); {:.1f} N used",
                      name_of(word), window.sealing_n, window.upper_n,
                      words_for(window.upper_site.site), each)};
}

}  // namespace

StrapSetting set_straps(const Case& input, const FaceInUse& face, const Mask& mask) {
  if (!input.straps.word) return {input.straps.tension_n, {}};
  const StrapWord word = *input.straps.word;
  const bool nasal = input.cushion.type == CushionType::nasal;
  if (nasal != is_nasal_word(word)) {
    throw InputError(input.file, "/straps/setting",
                     nasal ? "a nasal mask takes loose, appropriate or tight"
                           : "this mask takes below_window, in_window or above_window");
  }
  return nasal ? nasal_setting(word, input, face, mask) : window_setting(word, input, face, mask);
}

}  // namespace rimload
