#include "skin/sensor_reading.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "skin/site_pressure.hpp"

namespace rimload {

SensorField::SensorField(std::span<const ContactSample> samples) {
  constexpr double radius_mm = sensor_diameter_mm / 2;
  double widest = 0;
  for (const ContactSample& sample : samples) {
    if (sample.pressure <= 0) continue;
    const double half_cell = 0.5 * std::sqrt(sample.area_mm2);  // as wide as the square of its area
    loads_.push_back({sample.foot, sample.pressure * sample.area_mm2, half_cell, 0});
    widest = std::max(widest, half_cell);
  }
  reach_mm_ = radius_mm + widest;
  for (Load& load : loads_) load.strip = strip_of(load.foot.y());
  std::stable_sort(loads_.begin(), loads_.end(), [](const Load& a, const Load& b) {
    return std::tuple(a.strip, a.foot.x()) < std::tuple(b.strip, b.foot.x());
  });
}

int SensorField::strip_of(double y) const { return static_cast<int>(std::floor(y / reach_mm_)); }

// Calls add(load, squared distance) for the loads within a distance of a point.
template <typename Add>
void SensorField::for_each_near(const Vec3& point, double distance_mm, Add&& add) const {
  const double square = distance_mm * distance_mm;
  const int last = strip_of(point.y() + distance_mm);
  for (int strip = strip_of(point.y() - distance_mm); strip <= last; ++strip) {
    auto load = std::lower_bound(
        loads_.begin(), loads_.end(), std::tuple(strip, point.x() - distance_mm),
        [](const Load& a, const auto& from) { return std::tuple(a.strip, a.foot.x()) < from; });
    for (; load != loads_.end() && load->strip == strip; ++load) {
      if (load->foot.x() > point.x() + distance_mm) break;
      const double apart = (load->foot - point).squaredNorm();
      if (apart < square) add(*load, apart);
    }
  }
}

double SensorField::reading(const Vec3& centre_face) const {
  constexpr double radius_mm = sensor_diameter_mm / 2;
  double force = 0;
  for_each_near(centre_face, reach_mm_, [&](const Load& load, double square) {
    const double whole = radius_mm - load.half_cell_mm;  // a nearer cell lies in the disc whole
    if (square <= whole * whole) {
      force += load.force_n;
      return;
    }
    const double inside = radius_mm + load.half_cell_mm - std::sqrt(square);
    force += load.force_n * std::max(inside / (2 * load.half_cell_mm), 0.0);
  });
  return force / sensor_area_mm2;
}

double SensorField::most_near(const Vec3& point_face, double distance_mm) const {
  double force = 0;
  for_each_near(point_face, reach_mm_ + distance_mm,
                [&](const Load& load, double) { force += load.force_n; });
  return force / sensor_area_mm2;
}

double sensor_reading(std::span<const ContactSample> samples, const Vec3& centre_face) {
  return SensorField(samples).reading(centre_face);
}

}  // namespace rimload
