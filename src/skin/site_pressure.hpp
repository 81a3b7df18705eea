// Contact pressure by site, as a sensor would read it and as it is.
#pragma once

#include <span>
#include <vector>

#include "contact/equilibrium.hpp"
#include "geometry/site.hpp"

namespace rimload {

struct SitePressure {
  Site site = Site::cheek;
  Side side = Side::midline;
  double sensor = 0;              ///< largest mean over a disc of 1 cm2, bare area as zero [N/mm2]
  Vec3 sensor_at = Vec3::Zero();  ///< centre of that disc, facial frame [mm]
  double peak = 0;                ///< of any sample, or at the site's border [N/mm2]
  double mean = 0;                ///< over the area in contact [N/mm2]
  double shear_peak = 0;          ///< [N/mm2]
  double area_over_32_mmhg = 0;   ///< [mm2]; 32 mmHg is a nail-fold figure, no injury threshold
  double contact_area = 0;        ///< cells at the border counted in part [mm2]
  double strap_width_mm = 0;      ///< of the band that presses; 0: it is no site under a strap
};

/// Diameter and area of the published sensors' reading.
inline constexpr double sensor_diameter_mm = 11.3;
inline constexpr double sensor_area_mm2 = 100;

/// Pressure at every contact site, those without contact with zeros; sided sites twice. A lid has
/// zeros as well unless a sample of its own is pressed.
/// `sensor`: the largest `sensor_reading` centred on any sample of the site, pressed or bare, or on
/// the site's border between two samples along the rim.
[[nodiscard]] std::vector<SitePressure> site_pressures(std::span<const ContactSample> samples,
                                                       const SiteFinder& site_of);

/// Pressure under the straps, p = T/(R b): ear top and cheek on each side, the back of the head as
/// the larger of its bands. Areas stay 0: the model doesn't know how far a band wraps.
[[nodiscard]] std::vector<SitePressure> strap_pressures(std::span<const StrapLoad> loads,
                                                        std::span<const Strap> straps);

}  // namespace rimload
