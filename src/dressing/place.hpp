// Where a dressing would go.
#pragma once

#include <string>
#include <vector>

#include "geometry/site.hpp"
#include "geometry/vec.hpp"

namespace rimload {

/// The printed rule; each number can be changed in the case.
struct DressingRule {
  double bone_depth_below_mm = 5;      ///< a site with thinner tissue ...
  double hours_at_least = 4;           ///< ... worn this long needs one
  double sensor_above_mmhg = 0;        ///< the user's limit; 0: none set
  double times_sealing_need = 2;       ///< or sensor above so many times the pressure to seal
};

struct DressingPlace {
  SidedSite site;
  double length_mm = 0;                ///< along the rim
  double width_mm = 0;                 ///< across
  std::string reason;                  ///< which part of the rule, with its numbers
  std::vector<Vec3> outline;           ///< closed, on the skin, facial frame [mm]
};

}  // namespace rimload
