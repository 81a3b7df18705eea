// An estimate at given straps.
#pragma once

#include "fit/estimate.hpp"
#include "fit/strap_setting.hpp"

namespace rimload {

/// Balances every phase at these straps, on a face that may be covered, and reads off pressure,
/// seal, leak, dressing places and cautions.
[[nodiscard]] Estimate estimate_at(const Case& input, FaceInUse face, Mask mask,
                                   StrapSetting straps);

/// What a dressing rule looks at: the phase in which the skin is pressed hardest. Refers to the
/// estimate.
/// @pre its first phase seats
[[nodiscard]] DressingQuestion dressing_question(const Estimate& estimate);

}  // namespace rimload
