// What would open or widen a strap window, each tried out.
#pragma once

#include <string>
#include <vector>

#include "fit/fit.hpp"
#include "fit/strap_sweep.hpp"

namespace rimload {

/// What a strap window was found on.
struct StrapQuestion {
  const Case& input;
  const FaceInUse& bare;  ///< the case's face without dressings
  const WornFace& worn;   ///< with those that the case wears
  const Mask& mask;
  const StrapSweep& sweep;
};

/// In words, only what applies to the case: its leak with a strip shaved beneath the rim and with a
/// sealed port for the tube, the window without the dressings worn or with one of the catalogue
/// where the window ends, with the other sizes, and with 2 cmH2O less.
[[nodiscard]] std::vector<std::string> strap_changes(const StrapQuestion& question);

}  // namespace rimload
