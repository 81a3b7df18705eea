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
  double sensor = 0;            ///< largest mean over a disc of 1 cm2, bare area as zero [N/mm2]
  Vec3 sensor_at = Vec3::Zero();///< centre of that disc, facial frame [mm]
  double peak = 0;              ///< of any sample [N/mm2]
  double mean = 0;              ///< over the area in contact [N/mm2]
  double shear_peak = 0;        ///< [N/mm2]
  double area_over_32_mmhg = 0; ///< [mm2]; 32 mmHg is a nail-fold figure, no injury threshold
  double contact_area = 0;      ///< [mm2]
};

}  // namespace rimload
