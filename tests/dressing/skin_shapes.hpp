// Skins of simple shape, and places on them.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>

#include "dressing/place.hpp"
#include "geometry/skin_map.hpp"

namespace rimload {

/// A map whose radius is a function of the chart's coordinates, out to 60 mm of chart.
template <typename Radius>
SkinMap shaped_skin(Radius&& radius_at) {
  const GridFrame frame{-60, -60, 1, 121, 121};
  std::vector<BicubicGrid<1>::Values> nodes;
  for (int j = 0; j < frame.n_v; ++j) {
    for (int i = 0; i < frame.n_u; ++i) {
      nodes.push_back(BicubicGrid<1>::Values::Constant(radius_at(frame.u_at(i), frame.v_at(j))));
    }
  }
  return SkinMap(BicubicGrid<1>(frame, std::move(nodes), BicubicGrid<1>::Kind::interpolating));
}

/// A cylinder about the map's own axis.
inline SkinMap cylinder_skin(double radius_mm) {
  return shaped_skin([=](double, double) { return radius_mm; });
}

/// A surface of revolution about the map's axis whose height profile bends by a radius: a barrel
/// where it is positive (curved both ways alike), a saddle where it is negative.
inline SkinMap bent_skin(double radius_mm, double profile_radius_mm) {
  return shaped_skin([=](double, double v) {
    const double square = profile_radius_mm * profile_radius_mm;
    const double across = std::sqrt(std::max(square - v * v, 0.1 * square));  // ends far outside
    return profile_radius_mm > 0 ? radius_mm - profile_radius_mm + across
                                 : radius_mm - profile_radius_mm - across;
  });
}

/// A band on the skin about a point of the chart, with sharp corners.
inline DressingPlace place_on(const SkinMap& skin, const Vec2& middle_uv, const Vec2& size_uv) {
  DressingPlace out;
  out.site = {Site::forehead, Side::midline};
  constexpr int n = 12;
  const std::array<Vec2, 4> corner{Vec2(-0.5, -0.5), Vec2(0.5, -0.5), Vec2(0.5, 0.5),
                                   Vec2(-0.5, 0.5)};
  for (std::size_t side = 0; side < 4; ++side) {
    for (int k = 0; k < n; ++k) {
      const Vec2 share = corner[side] + k / double(n) * (corner[(side + 1) % 4] - corner[side]);
      out.outline.push_back(skin.point(middle_uv + share.cwiseProduct(size_uv)));
    }
  }
  return out;
}

}  // namespace rimload
