#include "fit/strap_setting.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <numeric>

#include "fit/caution.hpp"
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
          fmt::format("'{}', {:.2f} N a strap: {:.2f} N in all on the face (Duong 2021)",
                      name_of(word), each, total)};
}

std::string upper_edge(const StrapWindow& window, const Case& input) {
  const std::string site = place_words(window.upper_site);
  const double limit = input.dressing_rule.sensor_above_mmhg;
  switch (window.upper_end) {
    case WindowEnd::user_limit:
      return fmt::format("too tight from {:.1f} N ({} above the limit set, {:g} mmHg)",
                         window.upper_n, site, limit);
    case WindowEnd::tension_limit:
      if (limit > 0) {
        return fmt::format("no site passes the limit set, {:g} mmHg, up to {:g} N", limit,
                           window.upper_n);
      }
      return fmt::format("no upper edge up to {:g} N", window.upper_n);
    case WindowEnd::site_rise: break;
  }
  return fmt::format(
      "too tight from {:.1f} N ({} {:.0f} % above its just-sealed pressure, a "
      "convention)",
      window.upper_n, site, 100 * (window_rise - 1));
}

std::string window_words(const StrapWindow& window, const Case& input) {
  return fmt::format("seals from {:.1f} N, {}", window.sealing_n, upper_edge(window, input));
}

StrapPlace place_in(const StrapWindow& window, double each_n) {
  if (each_n < window.sealing_n) return StrapPlace::below_window;
  return each_n > window.upper_n ? StrapPlace::above_window : StrapPlace::in_window;
}

std::string_view words_for(StrapPlace place) {
  switch (place) {
    case StrapPlace::below_window: return "below";
    case StrapPlace::above_window: return "above";
    case StrapPlace::in_window: return "inside";
    case StrapPlace::no_window:
    case StrapPlace::unknown: break;
  }
  return {};
}

StrapSetting window_setting(StrapWord word, const Case& input, const FaceInUse& face,
                            const Mask& mask) {
  const StrapWindow window = find_strap_window(input, face, mask);
  if (!window.seals) {
    return {
        std::vector<double>(mask.straps.size(), window.best_effort_n),
        fmt::format("no equal tension up to {:g} N seals; {:.1f} N a strap, which comes nearest",
                    strap_tension_limit_n, window.best_effort_n),
        StrapPlace::no_window};
  }
  double each = 0.5 * (window.sealing_n + window.upper_n);
  if (word == StrapWord::below_window) each = below_factor * window.sealing_n;
  if (word == StrapWord::above_window) each = above_factor * window.upper_n;
  return {
      std::vector<double>(mask.straps.size(), each),
      fmt::format("'{}', {:.1f} N a strap: {}", name_of(word), each, window_words(window, input)),
      place_in(window, each)};
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

Estimate with_strap_note(Estimate estimate) {
  if (estimate.strap_place != StrapPlace::unknown) return estimate;
  const StrapWindow window = find_strap_window(estimate.input, estimate.face, estimate.mask);
  const std::vector<double>& tension = estimate.strap_tension_n;
  const double mean =
      std::accumulate(tension.begin(), tension.end(), 0.0) / static_cast<double>(tension.size());
  if (!estimate.strap_note.empty()) estimate.strap_note += "; ";
  if (!window.seals) {
    estimate.strap_note +=
        fmt::format("{:.1f} N a strap; no equal tension up to {:g} N seals, {:.1f} N comes nearest",
                    mean, strap_tension_limit_n, window.best_effort_n);
    estimate.strap_place = StrapPlace::no_window;
    return estimate;
  }
  estimate.strap_place = place_in(window, mean);
  estimate.strap_note +=
      fmt::format("{:.1f} N a strap, {} the window of equal straps: {}", mean,
                  words_for(estimate.strap_place), window_words(window, estimate.input));
  return estimate;
}

}  // namespace rimload
