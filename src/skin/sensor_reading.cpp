#include "skin/sensor_reading.hpp"

#include <algorithm>
#include <cmath>

#include "skin/site_pressure.hpp"

namespace rimload {

SensorField::SensorField(std::span<const ContactSample> samples) {
  constexpr double radius_mm = sensor_diameter_mm / 2;
  double widest = 0;
  for (const ContactSample& sample : samples) {
    if (sample.pressure <= 0) continue;
    const double half_cell = 0.5 * std::sqrt(sample.area_mm2);  // as wide as the square of its area
    loads_.push_back({sample.foot, sample.pressure * sample.area_mm2, half_cell});
    widest = std::max(widest, half_cell);
  }
  reach_mm_ = radius_mm + widest;
  std::stable_sort(loads_.begin(), loads_.end(),
                   [](const Load& a, const Load& b) { return a.foot.y() < b.foot.y(); });
}

double SensorField::reading(const Vec3& centre_face) const {
  constexpr double radius_mm = sensor_diameter_mm / 2;
  auto load = std::lower_bound(loads_.begin(), loads_.end(), centre_face.y() - reach_mm_,
                               [](const Load& a, double y) { return a.foot.y() < y; });
  double force = 0;
  for (; load != loads_.end() && load->foot.y() <= centre_face.y() + reach_mm_; ++load) {
    const double square = (load->foot - centre_face).squaredNorm();
    if (square >= reach_mm_ * reach_mm_) continue;
    const double whole = radius_mm - load->half_cell_mm;  // a nearer cell lies in the disc whole
    if (square <= whole * whole) {
      force += load->force_n;
      continue;
    }
    const double inside = radius_mm + load->half_cell_mm - std::sqrt(square);
    force += load->force_n * std::max(inside / (2 * load->half_cell_mm), 0.0);
  }
  return force / sensor_area_mm2;
}

double sensor_reading(std::span<const ContactSample> samples, const Vec3& centre_face) {
  return SensorField(samples).reading(centre_face);
}

}  // namespace rimload
