// The pull of one elastic strap.
#pragma once

#include "contact/wrench.hpp"

namespace rimload {

/// A straight elastic band from an anchor on the mask to a fixed point of the head.
struct Band {
  double stiffness_n_mm = 0.2;  ///< k
  double slack_length_mm = 0;   ///< below it the band pulls nothing
};

/// Over this stretch tension sets in smoothly [mm].
inline constexpr double band_blend_mm = 0.5;

/// Tension at a length, and its slope: k x^2/(2 e) for 0 < x < e and k (x - e/2) beyond, where x is
/// the stretch beyond slack and e = `band_blend_mm`.
struct BandTension {
  double tension_n = 0;
  double slope_n_mm = 0;
};
[[nodiscard]] BandTension band_tension(const Band& band, double length_mm);

/// The band that pulls with a tension at a length. @pre tension_n >= 0
[[nodiscard]] Band band_with_tension(double stiffness_n_mm, double tension_n, double length_mm);

/// Wrench on the mask. @param anchor from the mask's reference point, @param exit of the same
/// origin [mm]
[[nodiscard]] Wrench strap_pull(const Band& band, const Vec3& anchor, const Vec3& exit);

}  // namespace rimload
