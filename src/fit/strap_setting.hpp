// From what a case says of its straps to a tension for each.
#pragma once

#include <string>
#include <vector>

#include "fit/estimate.hpp"
#include "fit/strap_window.hpp"

namespace rimload {

struct StrapSetting {
  std::vector<double> tension_n;  ///< one a strap, gas off, at placement
  std::string note;               ///< how a word became tensions; empty for given tensions
  StrapPlace place = StrapPlace::unknown;
};

/// Given tensions as they are. For a nasal mask loose, appropriate and tight are total forces on
/// the face of 0.98, 3.43 and 5.88 N [Duong 2021], shared equally and taken along the facial z axis
/// at placement. For others below, in and above their window of this case: 0.8 times the sealing
/// tension, the middle, 1.25 times the upper edge (conventions of this project).
/// @throws InputError for a word that does not belong to the cushion's type
[[nodiscard]] StrapSetting set_straps(const Case& input, const FaceInUse& face, const Mask& mask);

/// The same estimate with its note of how given tensions, as their mean, lie to the window of equal
/// straps; as it was when its note says so already.
[[nodiscard]] Estimate with_strap_note(Estimate estimate);

}  // namespace rimload
