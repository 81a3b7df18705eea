#include "skin/sensor_reading.hpp"

#include <algorithm>
#include <cmath>

#include "skin/site_pressure.hpp"

namespace rimload {

namespace {

// Share of a sample's cell inside the disc, for a cell as wide as the square of its area.
double share_inside(double distance_mm, double area_mm2) {
  const double half_cell = 0.5 * std::sqrt(area_mm2);
  const double radius = sensor_diameter_mm / 2;
  return std::clamp((radius + half_cell - distance_mm) / (2 * half_cell), 0.0, 1.0);
}

}  // namespace

double sensor_reading(std::span<const ContactSample> samples, const Vec3& centre_face) {
  double force = 0;
  for (const ContactSample& sample : samples) {
    if (sample.pressure <= 0) continue;
    const double distance = (sample.foot - centre_face).norm();
    if (distance > sensor_diameter_mm) continue;
    force += sample.pressure * sample.area_mm2 * share_inside(distance, sample.area_mm2);
  }
  return force / sensor_area_mm2;
}

}  // namespace rimload
