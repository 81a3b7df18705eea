// The strap window as a picture: pressure by site and leak against tension.
#pragma once

#include <string>
#include <vector>

#include "fit/estimate.hpp"
#include "fit/strap_sweep.hpp"
#include "report/image.hpp"

namespace rimload {

/// Everything that the strap window's picture, table and words are about.
struct StrapReport {
  const Case& input;
  const Mask& mask;
  const StrapSweep& sweep;
  std::vector<std::string> changes;  ///< what would open the window, tried out, in words
  std::vector<WornPiece> worn = {};  ///< dressings that the sweep was made with
};

/// A page 1400 px wide: above, sensor pressure of the hardest pressed sites against tension a
/// strap and travel from slack; below, leak of each phase and of the breath, with the limits that
/// the case sets. The window is shaded, the just-sealed tension marked; where the mask does not
/// seat the curves are broken and the ground is grey.
[[nodiscard]] Image draw_strap_chart(const StrapReport& report);

}  // namespace rimload
