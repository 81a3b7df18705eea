// An estimate at given straps.
#pragma once

#include "fit/estimate.hpp"
#include "fit/strap_setting.hpp"

namespace rimload {

struct EstimateQuestion {
  const Case& input;
  FaceInUse face;  ///< may be covered
  Mask mask;
  StrapSetting straps;
  /// An estimate of the same mask in the same placement on nearly the same skin: its placement is
  /// taken, and its balances are where the search starts, which saves time and moves the answer by
  /// rounding only. Nothing: from scratch.
  const Estimate* near = nullptr;
};

/// Balances every phase and reads off pressure, seal, leak, dressing places and cautions.
[[nodiscard]] Estimate estimate_at(EstimateQuestion question);

/// What a dressing rule looks at: the phase in which the skin is pressed hardest. Refers to the
/// estimate.
/// @pre its first phase seats
[[nodiscard]] DressingQuestion dressing_question(const Estimate& estimate);

}  // namespace rimload
