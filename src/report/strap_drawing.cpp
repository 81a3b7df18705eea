#include "report/strap_drawing.hpp"

#include <algorithm>
#include <cmath>

#include "report/palette.hpp"
#include "report/skin_surface.hpp"

namespace rimload {

namespace {

constexpr double strap_step_mm = 3;
constexpr int n_across = 7;
constexpr double clearance_mm = 0.8;  // of a band from the skin under it
constexpr double cover = 0.88;

Vec3 radial(const Vec3& p) { return Vec3(p.x(), 0, p.z() - SkinMap::axis_z_mm).normalized(); }

std::vector<Vec3> resampled(const std::vector<Vec3>& line) {
  std::vector<Vec3> out;
  for (std::size_t k = 1; k < line.size(); ++k) {
    const Vec3 piece = line[k] - line[k - 1];
    const int n = std::max(1, static_cast<int>(std::ceil(piece.norm() / strap_step_mm)));
    for (int i = 0; i < n; ++i) out.push_back(line[k - 1] + piece * (static_cast<double>(i) / n));
  }
  if (!line.empty()) out.push_back(line.back());
  return out;
}

Vec3 lifted(Vec3 p, const SkinMap& skin) {
  for (int pass = 0; pass < 3; ++pass) {
    const double missing = clearance_mm - skin.first_order_distance(p);
    if (missing <= 0) break;
    p += missing * radial(p);
  }
  return p;
}

// Cloth: darker where it turns away from the viewer.
Rgba cloth(const Vec3& point, const Camera& camera) {
  const double facing = std::max(0.0, radial(point).dot(camera.towards_viewer()));
  Rgba colour = with_cover(palette::strap, 1);
  const auto light = static_cast<float>(0.80 + 0.20 * facing);
  return {colour.r * light, colour.g * light, colour.b * light,
          static_cast<float>(cover * shown_share(SkinMap::chart(point)))};
}

double share_at(const Vec3& p) { return shown_share(SkinMap::chart(p)); }

}  // namespace

StrapBand strap_band(const SceneStrap& strap, const SkinMap& skin) {
  const std::vector<Vec3> course = resampled(strap.points);
  StrapBand band;
  if (course.size() < 2) return band;
  for (std::size_t k = 0; k < course.size(); ++k) {
    const Vec3 along = course[std::min(k + 1, course.size() - 1)] - course[k == 0 ? 0 : k - 1];
    const Vec3 across = along.cross(radial(course[k])).normalized();
    std::vector<Vec3> row;
    for (int i = 0; i < n_across; ++i) {
      const double offset = (static_cast<double>(i) / (n_across - 1) - 0.5) * strap.width_mm;
      row.push_back(lifted(course[k] + offset * across, skin));
    }
    band.push_back(std::move(row));
  }
  return band;
}

RasterLayer strap_layer(const std::vector<StrapBand>& bands, const Camera& camera) {
  RasterLayer layer;
  layer.hides = false;
  for (const StrapBand& band : bands) {
    const auto first = static_cast<int>(layer.vertices.size());
    for (const auto& row : band) {
      for (const Vec3& point : row) {
        const Vec3 p = camera.project(point);
        layer.vertices.push_back({static_cast<float>(p.x()), static_cast<float>(p.y()),
                                  static_cast<float>(p.z()), cloth(point, camera), 0, 0});
      }
    }
    for (int k = 0; k + 1 < static_cast<int>(band.size()); ++k) {
      for (int i = 0; i + 1 < n_across; ++i) {
        const int a = first + k * n_across + i;
        layer.triangles.push_back({a, a + 1, a + n_across});
        layer.triangles.push_back({a + 1, a + n_across + 1, a + n_across});
      }
    }
  }
  return layer;
}

std::vector<StrokePath> strap_edges(const std::vector<StrapBand>& bands, const Camera& camera) {
  std::vector<StrokePath> out;
  for (const StrapBand& band : bands) {
    for (const std::size_t i : {0, n_across - 1}) {
      StrokePath path;
      for (const auto& row : band) {
        if (share_at(row[i]) > 0.5) path.push_back(camera.project(row[i]));
      }
      if (path.size() > 1) out.push_back(std::move(path));
    }
  }
  return out;
}

}  // namespace rimload
