// How often to look at the skin and take the load off it.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "skin/tolerance.hpp"

namespace rimload {

/// In rising order of haste.
enum class CheckAct {
  check,             ///< look and relieve at the interval
  relieve_now,       ///< the hours worn have used up the cautious end
  change_now,        ///< the cautious end is too short to plan by: change or off-load
  off_load_and_call  ///< injury
};
/// The name in files, such as `relieve_now`.
[[nodiscard]] std::string_view name_of(CheckAct act);

struct CheckPlan {
  CheckAct act = CheckAct::check;
  std::optional<double> next_h;    ///< until the next check and relief; 0 with `relieve_now`
  std::optional<double> every_h;   ///< from then on; neither with `change_now` or injury
  std::string bound;               ///< what set the interval
  std::vector<std::string> words;  ///< short sentences, in order
};

/// The soonest of: twice a day (guideline), every 4 h (bundles in use), local policy, and the
/// cautious end of the shortest curve, rounded down to half hours. A policy longer than the soonest
/// is named and doesn't count. Where the cautious end lies below half an hour: change or off-load
/// now. Load on a lid is taken off now. Numbers and words in `data/check-practice.json`.
/// @param readings `curve_readings(question, plan)`
[[nodiscard]] CheckPlan check_plan(const SiteQuestion& question, const WearPlan& plan,
                                   std::span<const CurveReading> readings);

/// When to change between masks that load other skin, and whose practice it is.
struct RotationPractice {
  std::string text;    ///< one sentence
  std::string source;  ///< such as `bundles in use: Kaur 2021 and others`
};
[[nodiscard]] RotationPractice rotation_practice();

}  // namespace rimload
