// What the skin does to one sample of the mask.
#pragma once

#include "contact/skin_cover.hpp"
#include "geometry/skin_map.hpp"
#include "material/layer_modulus.hpp"
#include "material/tissue_law.hpp"
#include "material/tissue_map.hpp"

namespace rimload {

/// Friction at one sample, as a total-slip law: t = -kt s / sqrt(1 + (kt |s|/cap)^2), s the
/// tangential displacement since placement, cap = mu p. Path-independent; hysteresis is left out.
struct SlipLaw {
  double mu = 0.6;
  double layer_stiffness_n_mm3 = 1e-3;  ///< of lip or pad in shear, in series with the skin's G/h
};

/// Everything about one sample except where it is.
struct SampleLaw {
  const LayerModulus* modulus = nullptr;
  double contact_width_mm = 5;      ///< w of its station
  double pad_compliance_mm3_n = 0;  ///< of a pad in series
  double blend_mm = 0.05;
  CoverPoint cover;  ///< what lies on the skin there
  SlipLaw slip;
};

/// Traction on the mask at a sample, with derivatives by its position.
struct Traction {
  double pressure = 0;              ///< p [N/mm2]
  Vec3 shear = Vec3::Zero();        ///< t [N/mm2]
  Vec3 force = Vec3::Zero();        ///< p n + t [N/mm2]
  Mat3 by_position = Mat3::Zero();  ///< of the force, at fixed contact width
  Vec3 by_width = Vec3::Zero();     ///< of the force by the contact width
};

/// @param skin as met on top of `law.cover`
/// @param tissue of the bare skin, before any swelling
/// @param displacement of the sample since placement, facial frame [mm]
[[nodiscard]] Traction skin_traction(const SkinPoint& skin, const TissuePoint& tissue,
                                     const Vec3& displacement, const SampleLaw& law,
                                     Slopes slopes = Slopes::with);

/// Contact width used for the modulus: w and 1 mm taken together as hypot(w, 1 mm), since the
/// samples can't tell narrower contacts apart.
inline constexpr double least_width_mm = 1;

}  // namespace rimload
