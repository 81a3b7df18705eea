// A cushion's lip pressed on a slice of tissue.
#pragma once

#include <limits>
#include <vector>

#include "skin/section_body.hpp"

namespace rimload {

/// The lip across the slice: a crown on a bed of springs (the law of `LipLaw` for one unit of
/// area), or a rigid punch.
struct SectionLip {
  double centre_mm = 0;  ///< of its crown, along x
  double width_mm = 10;  ///< beyond it nothing touches; to whole columns
  double crown_radius_mm = std::numeric_limits<double>::infinity();  ///< infinite: flat
  double stiffness_n_mm3 = 0;                                  ///< k, pressure per travel; 0: rigid
  double travel_mm = std::numeric_limits<double>::infinity();  ///< before it bottoms out
  double bottomed_stiffness_n_mm3 = 0;                         ///< beyond it; not below k
  double shear_ratio = 0;  ///< shear over pressure, to the right
};

/// What a pressed lip does.
struct LipContact {
  std::vector<double> pressure;  ///< on the outer side of each column [N/mm2], 0 where bare
  double approach_mm = 0;        ///< of the lip's root since first touch
  double width_mm = 0;           ///< of the sides in contact
  int iterations = 0;
  bool settled = false;          ///< false: the pressures are not to be used
  Eigen::VectorXd displacement;  ///< of the slice's nodes [mm]
};

/// Presses a lip with a force per length of rim, towards -y.
///
/// On each column's outer side the pressure is constant and the mean gap is closed or open:
/// A p + V(p) + (g0 - delta) c >= 0 and p >= 0, one of them 0, sum(p c L) = force. A is the
/// tissue's compliance between sides, V the lip's compression, g0 = x^2/(2 crown radius) less the
/// height of the skin, c the cosine between y and the skin's normal, L the side's length. Solved by
/// active sets (a semi-smooth Newton method, METHODS scheme 9: the tissue is factored once).
/// Contact shear acts along the skin and is not part of the balance along y.
/// @pre line_force_n_mm above 0
[[nodiscard]] LipContact press_lip(const SectionBody& body, const SectionLip& lip,
                                   double line_force_n_mm);

}  // namespace rimload
