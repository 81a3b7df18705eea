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

/// How much is read off a balance.
enum class Reading {
  whole,
  picture  ///< contact, seal and leak, a quarter quicker; `read_rest` does the rest
};

struct EstimateQuestion {
  const Case& input;
  FaceInUse face;  ///< may be covered
  Mask mask;
  StrapSetting straps;
  std::optional<EstimateStart> start = {};  ///< nothing: from scratch
  Reading reading = Reading::whole;
};

/// Balances every phase and reads off pressure, seal, leak, dressing places and cautions.
[[nodiscard]] Estimate estimate_at(EstimateQuestion question);

/// Completes an estimate read for a picture: pressure by site, dressing places, what skin bears,
/// how near the rim comes.
void read_rest(Estimate& estimate);

/// What a dressing rule looks at: the phase in which the skin is pressed hardest. Refers to the
/// estimate.
/// @pre its first phase seats
[[nodiscard]] DressingQuestion dressing_question(const Estimate& estimate);

}  // namespace rimload
