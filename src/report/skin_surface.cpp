#include "report/skin_surface.hpp"

#include <algorithm>
#include <cmath>

namespace rimload {

namespace {

constexpr double step_u_mm = 2;
constexpr double step_v_mm = 1.25;  // finer, for the curves of the profile
constexpr double half_width_mm = 144;
constexpr double top_mm = 64;
constexpr double bottom_mm = -130;

// A grid of values over the chart, rows along u.
struct ChartGrid {
  int n_u = 0;
  int n_v = 0;
  std::vector<double> value;
  double& at(int i, int j) {
    return value[static_cast<std::size_t>(j) * static_cast<std::size_t>(n_u) +
                 static_cast<std::size_t>(i)];
  }
};

// Mean over a square of 2 reach + 1 nodes, along one direction of the grid.
ChartGrid box_mean(ChartGrid grid, int reach, bool along_u) {
  const int lines = along_u ? grid.n_v : grid.n_u;
  const int n = along_u ? grid.n_u : grid.n_v;
  const auto at = [&](int line, int k) -> double& {
    return along_u ? grid.at(k, line) : grid.at(line, k);
  };
  std::vector<double> sum(static_cast<std::size_t>(n) + 1, 0.0);
  for (int line = 0; line < lines; ++line) {
    for (int k = 0; k < n; ++k) {
      sum[static_cast<std::size_t>(k) + 1] = sum[static_cast<std::size_t>(k)] + at(line, k);
    }
    for (int k = 0; k < n; ++k) {
      const int near = std::min({reach, k, n - 1 - k});  // symmetric, so a slope stays a slope
      at(line, k) =
          (sum[static_cast<std::size_t>(k + near) + 1] - sum[static_cast<std::size_t>(k - near)]) /
          (2 * near + 1);
    }
  }
  return grid;
}

// Two passes of a box: close to a bell curve.
ChartGrid smoothed(ChartGrid grid, double reach_mm) {
  const int reach_u = static_cast<int>(std::lround(reach_mm / step_u_mm));
  const int reach_v = static_cast<int>(std::lround(reach_mm / step_v_mm));
  for (int pass = 0; pass < 2; ++pass) {
    grid = box_mean(box_mean(std::move(grid), reach_u, true), reach_v, false);
  }
  return grid;
}

// Clay from shade to light, coded sRGB: shadows warmer, lights paler.
const std::array<Rgba, 256>& clay() {
  static const auto table = [] {
    std::array<Rgba, 256> t;
    for (std::size_t k = 0; k < t.size(); ++k) {
      const double light = static_cast<double>(k) / 255;
      const Vec3 lab(0.40 + 0.56 * light, 0.017 - 0.010 * light, 0.030 - 0.016 * light);
      t[k] = with_cover(rgb_from_linear(linear_from_oklab(lab)), 1);
    }
    return t;
  }();
  return table;
}

// The skin beneath the chin, of which the map holds only the beginning, fades away by height, the
// same all along the jaw.
double beneath_chin(const Vec2& uv, double chin_end_mm) {
  constexpr double fade_mm = 10;
  const double t = std::clamp((chin_end_mm - uv.y()) / fade_mm, 0.0, 1.0);
  return t * t * (3 - 2 * t);
}

double lightness(const Vec3& normal_sight, double hollow) {
  static const Vec3 key = Vec3(0, 0.50, 0.87).normalized();
  const double lit = std::max(0.0, (normal_sight.dot(key) + 0.55) / 1.55);
  const double sky = 0.5 + 0.5 * normal_sight.y();
  return std::clamp(0.10 + 0.66 * lit + 0.16 * sky + hollow, 0.26, 1.0);
}

}  // namespace

double shown_share(const Vec2& uv) {
  const Vec2 scaled(uv.x() / half_width_mm,
                    (uv.y() - 0.5 * (top_mm + bottom_mm)) / (0.5 * (top_mm - bottom_mm)));
  constexpr double p = 2.7;  // between an ellipse (2) and a box
  const double q =
      std::pow(std::pow(std::abs(scaled.x()), p) + std::pow(std::abs(scaled.y()), p), 1 / p);
  const double t = std::clamp((1 - q) / 0.10, 0.0, 1.0);
  return t * t * (3 - 2 * t);
}

std::pair<int, int> skin_grid_size() {
  return {2 * static_cast<int>(half_width_mm / step_u_mm) + 1,
          static_cast<int>((top_mm - bottom_mm) / step_v_mm) + 1};
}

SkinGrid skin_grid(const SkinMap& skin, double chin_end_mm) {
  SkinGrid grid;
  const auto [n_u, n_v] = skin_grid_size();
  grid.n_u = n_u;
  grid.n_v = n_v;
  const auto index = [row = static_cast<std::size_t>(grid.n_u)](int i, int j) {
    return static_cast<std::size_t>(j) * row + static_cast<std::size_t>(i);
  };
  grid.nodes.resize(static_cast<std::size_t>(n_u) * static_cast<std::size_t>(n_v));
  ChartGrid radius{n_u, n_v, std::vector<double>(grid.nodes.size())};
  for (int j = 0; j < n_v; ++j) {
    for (int i = 0; i < n_u; ++i) {
      SkinGrid::Node& node = grid.nodes[index(i, j)];
      node.uv = Vec2((i - n_u / 2) * step_u_mm, bottom_mm + j * step_v_mm);
      node.point = skin.point(node.uv);
      radius.at(i, j) = std::hypot(node.point.x(), node.point.z() - SkinMap::axis_z_mm);
    }
  }
  ChartGrid near = smoothed(radius, 4);
  ChartGrid far = smoothed(radius, 11);
  const auto point = [&](int i, int j) -> const Vec3& { return grid.nodes[index(i, j)].point; };
  for (int j = 0; j < n_v; ++j) {
    for (int i = 0; i < n_u; ++i) {
      SkinGrid::Node& node = grid.nodes[index(i, j)];
      const Vec3 by_u = point(std::min(i + 1, n_u - 1), j) - point(std::max(i - 1, 0), j);
      const Vec3 by_v = point(i, std::min(j + 1, n_v - 1)) - point(i, std::max(j - 1, 0));
      node.normal = by_u.cross(by_v).normalized();
      const double r = radius.at(i, j);
      node.hollow = std::clamp(0.14 * (r - near.at(i, j)), -0.12, 0.06) +
                    std::clamp(0.030 * (r - far.at(i, j)), -0.15, 0.06);
      node.shown = shown_share(node.uv) * (1 - beneath_chin(node.uv, chin_end_mm));
    }
  }
  return grid;
}

RasterLayer skin_layer(const SkinMap& skin, const Camera& camera, double chin_end_mm) {
  const SkinGrid grid = skin_grid(skin, chin_end_mm);
  const int n_u = grid.n_u;
  const int n_v = grid.n_v;
  RasterLayer layer;
  layer.faces = Faces::front;
  layer.vertices.reserve(grid.nodes.size());
  for (const SkinGrid::Node& node : grid.nodes) {
    const double light = lightness(camera.sight(node.normal), node.hollow);
    const Vec3 p = camera.project(node.point);
    RasterVertex vertex{
        static_cast<float>(p.x()),       static_cast<float>(p.y()),
        static_cast<float>(p.z()),       clay()[static_cast<std::size_t>(std::lround(255 * light))],
        static_cast<float>(node.uv.x()), static_cast<float>(node.uv.y())};
    vertex.colour.a = static_cast<float>(node.shown);
    layer.vertices.push_back(vertex);
  }
  layer.triangles.reserve(2 * grid.nodes.size());
  for (int j = 0; j + 1 < n_v; ++j) {
    for (int i = 0; i + 1 < n_u; ++i) {
      const int a = j * n_u + i;
      const auto b = a + 1;
      const auto c = a + n_u;
      const auto d = c + 1;
      // Diagonals mirror at the midline, so that a mirrored face gives a mirrored picture.
      if (i < n_u / 2) {
        layer.triangles.push_back({a, b, d});
        layer.triangles.push_back({a, d, c});
      } else {
        layer.triangles.push_back({a, b, c});
        layer.triangles.push_back({b, d, c});
      }
    }
  }
  return layer;
}

}  // namespace rimload
