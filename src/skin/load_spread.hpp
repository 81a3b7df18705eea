// What the skin bears beneath a dressing, where the cushion presses the dressing.
#pragma once

#include <span>
#include <vector>

#include "contact/mask_on_face.hpp"

namespace rimload {

/// One cell of a row across the rim.
struct SpreadCell {
  double area_mm2 = 0;      ///< above 0
  double pressure = 0;      ///< on the layer [N/mm2]
  double tissue_n_mm3 = 0;  ///< k, stiffness of what lies beneath, above 0
  double shear_n_mm = 0;    ///< S = G t of the layer in shear; 0: no layer
};

/// Pressure that a row passes on to the skin through a layer that carries shear,
/// k w - (S w')' = p, skin pressure k w; no shear leaves at the ends [Pasternak's layer; Hetenyi
/// 1946 has the alike equation of a tensioned strip]. With k and S even a line load spreads as
/// exp(-|x|/l)/(2 l), l = sqrt(S/k).
///
/// Force is kept: the sums of area times pressure are equal.
/// @param cell_mm distance between neighbours
/// @return one pressure a cell [N/mm2]
[[nodiscard]] std::vector<double> spread_pressure(std::span<const SpreadCell> row, double cell_mm);

/// The samples of a mask in balance with the pressure that the skin bears in place of that on top
/// of the cover. Beneath a dressing load spreads across the rim, also to skin that the rim does
/// not touch: samples of part `beside` are added for it at the end, up to
/// `spread_reach_mm` beyond the lip.
///
/// Along the rim, where pressure changes little over l, and under a pad, which is far wider than l,
/// nothing is spread. Shear is passed on as it is. Without a cover the samples are returned as they
/// are.
[[nodiscard]] std::vector<ContactSample> loads_on_skin(std::span<const ContactSample> samples,
                                                       const Mask& mask, const FaceField& face);

inline constexpr double spread_reach_mm = 8;

}  // namespace rimload
