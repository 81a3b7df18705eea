// Where rims go: bands along closed lines through landmarks, for three kinds of mask.
#pragma once

#include <array>
#include <random>
#include <string>
#include <vector>

#include "geometry/skin_map.hpp"

namespace rimload {

struct SealLine {
  const char* mask;
  std::vector<const char*> landmarks;  ///< from the midline above to the midline below, left side
};

/// Lines of an oronasal, a nasal, a below-the-nose and a total-face rim.
inline const std::array<SealLine, 4>& seal_lines() {
  static const std::array<SealLine, 4> lines{
      SealLine{"oronasal",
               {"dorsum_upper", "dorsum_side_upper", "sidewall_upper", "cheek_paranasal",
                "nasolabial_fold", "perioral_side", "perioral_low", "supramentale"}},
      SealLine{"nasal",
               {"rhinion", "dorsum_side_rhinion", "sidewall_rhinion", "cheek_paranasal",
                "nasolabial_fold", "mid_philtrum"}},
      SealLine{"below the nose",
               {"subnasale", "nostril_sill", "alar_base", "nasolabial_fold", "perioral_side",
                "perioral_low", "supramentale"}},
      SealLine{"total face",
               {"glabella", "brow_lateral", "orbital_lateral", "malar", "cheek_mid", "cheek_low",
                "prejowl", "chin_side", "pogonion"}}};
  return lines;
}

/// The folds beside and beneath the nose, where a query may have two foot points.
inline const SealLine& fold_line() {
  static const SealLine line{"folds of the nose",
                             {"alar_groove", "alar_base", "nostril_sill", "subnasale"}};
  return line;
}

/// Chart points spread evenly over the band `half_width_mm` to both sides of a line, left side
/// and right side in turn; the same ones for the same seed.
inline std::vector<Vec2> points_near(const SealLine& line, std::span<const Landmark> landmarks,
                                     double half_width_mm, int n) {
  std::vector<Vec2> corners;
  for (const char* name : line.landmarks) {
    for (const Landmark& landmark : landmarks) {
      if (landmark.name == name && landmark.side != Side::right) {
        corners.push_back(SkinMap::chart(landmark.position_face));
      }
    }
  }
  std::vector<double> arc{0};
  for (std::size_t k = 1; k < corners.size(); ++k) {
    arc.push_back(arc.back() + (corners[k] - corners[k - 1]).norm());
  }
  std::mt19937 random(1);
  // Our own scaling: std::uniform_real_distribution differs between libraries.
  const auto uniform = [&](double from, double to) {
    return from + (to - from) * static_cast<double>(random()) / 4294967296.0;
  };
  std::vector<Vec2> points;
  for (int i = 0; i < n; ++i) {
    const double at = uniform(0, arc.back());
    std::size_t k = 1;
    while (k + 1 < corners.size() && arc[k] < at) ++k;
    const Vec2 along = (corners[k] - corners[k - 1]) / (arc[k] - arc[k - 1]);
    const Vec2 across(-along[1], along[0]);
    Vec2 point = corners[k - 1] + (at - arc[k - 1]) * along +
                 uniform(-half_width_mm, half_width_mm) * across;
    if (i % 2 == 1) point[0] = -point[0];
    points.push_back(point);
  }
  return points;
}

}  // namespace rimload
