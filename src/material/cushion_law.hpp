// How a cushion's lip and a forehead pad give way.
#pragma once

namespace rimload {

/// A response and its slope.
struct Response {
  double value = 0;
  double slope = 0;
};

/// The lip of a cushion, per unit length of rim and across its whole width.
///
/// Force per length f(u) = width * (k u) up to the travel, then k is replaced by the bottomed
/// stiffness, blended over `blend_mm`: with x = u - travel, the extra force is
/// (kb - k) x^2 / (2 e) for 0 < x < e and (kb - k)(x - e/2) beyond.
struct LipLaw {
  double stiffness_n_mm3 = 1e-3;             ///< k: pressure per travel [N/mm3], 1 kPa/mm = 1e-3
  double travel_mm = 4;                      ///< before it bottoms out
  double bottomed_stiffness_n_mm3 = 15e-3;   ///< kb, not below k
  double tangential_stiffness_n_mm3 = 1e-3;  ///< shear per sliding, in series with the skin
  double gas_share = 1;                      ///< phi: 1 for a gas-backed flap, 0 for gel or foam
  double bending_n_mm2 = 0;                  ///< EI of the lip as a beam along the rim [N mm2]
  double hoop_tension_n = 0;                 ///< N, its tension along the rim [N]
  double blend_mm = 0.05;                    ///< e

  /// Force per unit length and its slope at lip displacement u [mm].
  /// @param width_mm of the lip; @param stiffness_factor of the station
  [[nodiscard]] Response force_per_length(double u_mm, double width_mm,
                                          double stiffness_factor) const;
};

}  // namespace rimload
