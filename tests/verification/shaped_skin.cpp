#include "shaped_skin.hpp"

#include <cmath>
#include <functional>
#include <numbers>

namespace rimload {

namespace {

SkinMap map_of(const std::function<double(double angle, double y)>& radius) {
  constexpr int n = 241;
  const GridFrame frame{.u0_mm = -60, .v0_mm = -60, .spacing_mm = 0.5, .n_u = n, .n_v = n};
  std::vector<BicubicGrid<1>::Values> nodes;
  for (int j = 0; j < n; ++j) {
    for (int i = 0; i < n; ++i) {
      BicubicGrid<1>::Values value;
      value[0] = radius(frame.u_at(i) / SkinMap::chart_radius_mm, frame.v_at(j));
      nodes.push_back(value);
    }
  }
  return SkinMap(BicubicGrid<1>(frame, std::move(nodes), BicubicGrid<1>::Kind::interpolating));
}

}  // namespace

SkinMap flat_skin() {
  return map_of([](double angle, double) { return shape_front_mm / std::cos(angle); });
}

SkinMap spherical_skin(double radius_mm) {
  const double back = shape_front_mm - radius_mm;  // the centre, forward of the axis
  return map_of([=](double angle, double y) {
    const double across = back * std::sin(angle);
    return back * std::cos(angle) + std::sqrt(radius_mm * radius_mm - y * y - across * across);
  });
}

Rim ring(double radius_mm, RimSection section) {
  Rim rim{.controls = {}, .section = section};
  constexpr int n = 24;
  for (int k = 0; k < n; ++k) {
    const double t = 2 * std::numbers::pi * k / n;
    rim.controls.push_back(
        {{radius_mm * std::sin(t), radius_mm * (std::cos(t) - 1), 0}, Vec3::UnitZ(), 1});
  }
  return rim;
}

SampledRim far_rim() {
  Rim rim = ring(20, {});
  for (RimControl& control : rim.controls) control.position_mask.z() += 500;
  return sample_rim(rim, {16, 3});
}

}  // namespace rimload
