// From a cushion as catalogued to a mask on this wearer.
#pragma once

#include "case/case.hpp"

namespace rimload {

/// The mask of a case: its rim sampled, each pair of straps as a left and a right one, mirrored,
/// in the order of `StrapRequest::tension_n`. A strap meets the head at the wearer's own tragion
/// of that side plus the cushion's offset.
/// @throws InputError when the face has no tragion
[[nodiscard]] Mask make_mask(const Case& input);

}  // namespace rimload
