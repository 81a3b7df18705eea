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
  double shear_n_mm = 0;    ///< S = G t of the layer; 0: no layer
  double bending_n_mm = 0;  ///< D = E t^3/(12 (1 - nu^2)), per width
};

/// Pressure that a row passes on to the skin through a layer that shears and bends, as
/// Timoshenko's beam on a bed of springs: k w - (S (w' - f))' = p, (D f')' + S (w' - f) = 0, skin
/// pressure k w; neither shear nor moment leaves at the ends [Timoshenko 1921; Hetenyi 1946,
/// chapter 2, for S without end]. Without end D leaves k w - (S w')' = p, a shear layer, in which
/// a line load spreads as exp(-|x|/l)/(2 l), l = sqrt(S/k); plain dressings bend and spread less.
///
/// Force is kept: the sums of area times pressure are equal. Against the slice of tissue
/// (`Section`) the worst pressure comes out 0 to 21 % too high: a thick gel also spreads load
/// within its thickness.
/// @param cell_mm distance between neighbours
/// @return one pressure a cell [N/mm2]; it can be negative some way beside the load, where the
/// layer would lift
[[nodiscard]] std::vector<double> spread_pressure(std::span<const SpreadCell> row, double cell_mm);

/// The samples of a mask in balance with the pressure that the skin bears in place of that on top
/// of the cover. Beneath a dressing load spreads across the rim, also to skin that the rim does
/// not touch: samples of part `beside` are added for it at the end, up to
/// `spread_reach_mm` beyond the lip.
///
/// Pressure can be negative where the layer would lift; the sum of forces is kept.
///
/// Along the rim, where pressure changes little over l, and under a pad, which is far wider than l,
/// nothing is spread. Shear is passed on as it is. Without a cover the samples are returned as they
/// are.
[[nodiscard]] std::vector<ContactSample> loads_on_skin(std::span<const ContactSample> samples,
                                                       const Mask& mask, const FaceField& face);

inline constexpr double spread_reach_mm = 8;

}  // namespace rimload
