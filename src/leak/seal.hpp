// Whether each station of a rim seals, and what passes where it does not.
#pragma once

#include <string_view>
#include <vector>

#include "geometry/site.hpp"
#include "geometry/vec.hpp"

namespace rimload {

/// Where a jet of leaking gas points.
enum class JetDirection { left_eye, right_eye, nose, cheek, jawline, mouth };
[[nodiscard]] std::string_view name_of(JetDirection direction);
[[nodiscard]] std::string_view words_for(JetDirection direction);

/// The seal at one station.
struct StationSeal {
  double margin = 0;     ///< largest contact pressure across, less gas pressure [N/mm2]
  double openness = 0;   ///< 0 sealed to 1 open
  double gap_mm = 0;     ///< height of the passage, 0 when sealed
  double flow = 0;       ///< [mm3/s]
  SidedSite site;
};

struct SealSummary {
  std::vector<StationSeal> stations;
  double sealed_fraction = 0;        ///< by arc length
  std::size_t weakest_station = 0;
  double weakest_margin = 0;         ///< [N/mm2]
  SidedSite weakest_site;
};

/// A run of neighbouring stations that leak.
struct LeakSegment {
  SidedSite site;
  JetDirection direction = JetDirection::cheek;
  double length_mm = 0;
  double gap_max_mm = 0;
  double flow = 0;                   ///< [mm3/s]
  Vec3 at_face = Vec3::Zero();       ///< middle of the segment [mm]
  Vec3 towards = Vec3::Zero();       ///< unit, out of the mask along the skin
};

struct LeakSummary {
  double total = 0;                  ///< [mm3/s]
  std::vector<LeakSegment> segments; ///< largest flow first, eye-directed ones before others
};

}  // namespace rimload
