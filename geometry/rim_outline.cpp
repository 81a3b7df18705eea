#include "geometry/rim_outline.hpp"

#include <algorithm>

namespace rimload {

std::string_view name_of(RimEdge edge) {
  switch (edge) {
    case RimEdge::inner: return "inner";
    case RimEdge::outer: return "outer";
    case RimEdge::crown: break;
  }
  return "crown";
}

RimOutline::RimOutline(const Rim& rim, RimEdge edge) {
  constexpr int n_stations = 240;
  const SampledRim sampled = sample_rim(rim, {.n_stations = n_stations, .n_across = 3});
  double offset = 0;
  if (edge != RimEdge::crown) offset = 0.5 * rim.section.lip_width_mm;
  if (edge == RimEdge::inner) offset = -offset;
  const double drop = offset * offset / (2 * rim.section.crown_radius_mm);
  double front = 0;
  double back = 0;
  for (const RimStation& station : sampled.stations) {
    const Vec3 at = station.crown + offset * station.across + drop * station.axis;
    if (points_.empty()) {
      top_ = bottom_ = at.y();
      front = back = at.z();
    }
    points_.emplace_back(at.head<2>());
    top_ = std::max(top_, at.y());
    bottom_ = std::min(bottom_, at.y());
    front = std::max(front, at.z());
    back = std::min(back, at.z());
    if (at.x() > widest_.x()) widest_ = at.head<2>();
  }
  depth_ = front - back;
}

std::optional<double> RimOutline::width_mm(double y_mm) const {
  std::optional<double> half;
  for (std::size_t k = 0; k < points_.size(); ++k) {
    const Vec2& a = points_[k];
    const Vec2& b = points_[(k + 1) % points_.size()];
    if ((a.y() - y_mm) * (b.y() - y_mm) > 0 || a.y() == b.y()) continue;
    const double x = a.x() + (y_mm - a.y()) / (b.y() - a.y()) * (b.x() - a.x());
    if (x >= 0 && x > half.value_or(-1)) half = x;
  }
  if (!half) return std::nullopt;
  return 2 * *half;
}

}  // namespace rimload
