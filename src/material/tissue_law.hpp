// How soft tissue and what lies beneath it answer to indentation.
#pragma once

namespace rimload {

/// What a column of tissue is made of, where it is pressed.
struct TissueColumn {
  double indentation_mm = 0;          ///< of the surface
  double depth_mm = 10;               ///< h, skin to backing
  double modulus_n_mm2 = 0.1;         ///< M_eff of this width of contact
  double compliance_mm3_n = 0;        ///< c of backing and pad in series [mm3/N]
  double layer_mm = 0;                ///< t of a layer on top, such as a dressing; 0: none
  double layer_compliance_mm3_n = 0;  ///< t/M_l of that layer [mm3/N]
};

/// Pressure and its partial derivatives.
struct ColumnPressure {
  double pressure = 0;  ///< [N/mm2]
  double by_indentation = 0;
  double by_depth = 0;
  double by_modulus = 0;
  double by_compliance = 0;
  double by_layer = 0;
  double by_layer_compliance = 0;
};

/// Pressure on a column: p = -M ln(1 - d_t/h), where the indentation d = d_t + c p + d_l is shared
/// between tissue, backing and a layer on top that answers by the same law, p = -M_l ln(1 - d_l/t).
/// Stiffens with strain; from 95 % strain on the tissue goes on along its tangent.
///
/// Pressure sets in smoothly: the indentation x is first replaced by x^2/(2 e) for 0 < x < e and
/// x - e/2 beyond. Nothing is pressed for x <= 0.
/// @param blend_mm e, positive
[[nodiscard]] ColumnPressure column_pressure(const TissueColumn& column, double blend_mm);

/// Smooth switch from 0 (x <= 0) to 1 (x >= 1): 3 x^2 - 2 x^3.
struct Switch {
  double value = 0;
  double slope = 0;
};
[[nodiscard]] Switch smooth_switch(double x);

}  // namespace rimload
