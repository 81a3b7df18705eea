// An estimate at given straps.
#pragma once

#include "fit/estimate.hpp"
#include "fit/strap_setting.hpp"
#include "fit/trial.hpp"

namespace rimload {

/// Where the search may start, which saves time and moves the answer by rounding only: the same
/// mask in the same placement on nearly the same skin.
struct EstimateStart {
  Pose placement;
  Balances balances;
};
[[nodiscard]] EstimateStart start_of(const Estimate& estimate);

/// Whether dressing places are looked for, which takes a sixth of an estimate.
enum class Places { found, left_out };

struct EstimateQuestion {
  const Case& input;
  FaceInUse face;  ///< may be covered
  Mask mask;
  StrapSetting straps;
  std::optional<EstimateStart> start = {};  ///< nothing: from scratch
  Places places = Places::found;
};

/// Balances every phase and reads off pressure, seal, leak, dressing places and cautions.
[[nodiscard]] Estimate estimate_at(EstimateQuestion question);

/// Where the case's rule asks for a dressing: not on injured skin, which is taken off load and
/// never dressed to carry on, nor where one is worn.
[[nodiscard]] std::vector<DressingPlace> dressing_places_of(const Estimate& estimate);

/// What a dressing rule looks at: the phase in which the skin is pressed hardest. Refers to the
/// estimate.
/// @pre its first phase seats
[[nodiscard]] DressingQuestion dressing_question(const Estimate& estimate);

}  // namespace rimload
