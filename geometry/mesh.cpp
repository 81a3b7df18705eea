#include "geometry/mesh.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

namespace rimload {

namespace {

// A landmark at the edge of the face, and how far the mesh goes past it. [mm of chart]
struct EdgeLandmark {
  const char* name;
  double past_mm;
};
// From below upwards. Above the ears the map holds well back to the hair of the temples.
constexpr std::array edge_landmarks{EdgeLandmark{"neck_side", 6},    EdgeLandmark{"jaw_under", 8},
                                    EdgeLandmark{"gonion", 6},       EdgeLandmark{"ramus_low", 4},
                                    EdgeLandmark{"tragion", 2},      EdgeLandmark{"temple", 24},
                                    EdgeLandmark{"temple_upper", 16}};
// The hairline narrows upwards; there is no landmark at its side.
constexpr double top_narrowing = 0.86;

// Slope at an inner node that keeps a cubic between its neighbours [Fritsch & Butland 1984].
double slope(double before, double after) {
  return before * after <= 0 ? 0 : 2 * before * after / (before + after);
}

}  // namespace

RegionRow MeshRegion::at(double v_mm) const {
  assert(rows.size() >= 2);
  const auto above = std::upper_bound(rows.begin() + 1, rows.end() - 1, v_mm,
                                      [](double v, const RegionRow& row) { return v < row.v_mm; });
  const auto high = static_cast<std::size_t>(above - rows.begin());
  const auto edge = [&](double RegionRow::*side) {
    const auto rise = [&](std::size_t k) {
      return (rows[k].*side - rows[k - 1].*side) / (rows[k].v_mm - rows[k - 1].v_mm);
    };
    const double width = rows[high].v_mm - rows[high - 1].v_mm;
    const double t = std::clamp((v_mm - rows[high - 1].v_mm) / width, 0.0, 1.0);
    const double here = rise(high);
    const double m0 = high >= 2 ? slope(rise(high - 1), here) : here;
    const double m1 = high + 1 < rows.size() ? slope(here, rise(high + 1)) : here;
    const double s = 1 - t;
    return (1 + 2 * t) * s * s * rows[high - 1].*side + t * t * (3 - 2 * t) * rows[high].*side +
           width * t * s * (s * m0 - t * m1);
  };
  return {v_mm, edge(&RegionRow::u_min_mm), edge(&RegionRow::u_max_mm)};
}

MeshRegion face_region(std::span<const Landmark> landmarks) {
  MeshRegion region;
  for (const auto& [name, past] : edge_landmarks) {
    const Vec2 left = SkinMap::chart(find_landmark(landmarks, name, Side::left).position_face);
    const Vec2 right = SkinMap::chart(find_landmark(landmarks, name, Side::right).position_face);
    region.rows.push_back({0.5 * (left[1] + right[1]), right[0] - past, left[0] + past});
  }
  const RegionRow& last = region.rows.back();
  region.rows.push_back({find_landmark(landmarks, "trichion", Side::midline).position_face.y(),
                         top_narrowing * last.u_min_mm, top_narrowing * last.u_max_mm});
  return region;
}

MeshRegion grid_region(const SkinMap& skin) {
  const GridFrame& frame = skin.frame();
  const double u_min = frame.u0_mm;
  const double u_max = frame.u_at(frame.n_u - 1);
  return {{{frame.v0_mm, u_min, u_max}, {frame.v_at(frame.n_v - 1), u_min, u_max}}};
}

TriangleMesh make_mesh(const SkinMap& skin, const MeshRegion& region, double spacing_mm) {
  const double v_min = region.rows.front().v_mm;
  const double height = region.rows.back().v_mm - v_min;
  double width = 0;
  for (const RegionRow& row : region.rows) width = std::max(width, row.u_max_mm - row.u_min_mm);
  const auto steps = [&](double length) {
    return static_cast<std::uint32_t>(std::max(1.0, std::ceil(length / spacing_mm)));
  };
  const std::uint32_t n_v = steps(height);
  const std::uint32_t n_u = 2 * steps(0.5 * width);  // even: a line of vertices on the midline
  TriangleMesh mesh;
  mesh.vertices.reserve((n_u + 1) * (n_v + 1));
  mesh.triangles.reserve(2 * std::size_t{n_u} * n_v);
  for (std::uint32_t j = 0; j <= n_v; ++j) {
    const RegionRow row = region.at(v_min + height * j / n_v);
    for (std::uint32_t i = 0; i <= n_u; ++i) {
      const double u = (row.u_min_mm * (n_u - i) + row.u_max_mm * i) / n_u;
      mesh.vertices.push_back(skin.point({u, row.v_mm}));
    }
  }
  for (std::uint32_t j = 0; j < n_v; ++j) {
    for (std::uint32_t i = 0; i < n_u; ++i) {
      const std::uint32_t low = j * (n_u + 1) + i;
      const std::uint32_t high = low + n_u + 1;
      // The diagonal leans the other way on the other side, so that a mesh is symmetric too.
      if (2 * i < n_u) {
        mesh.triangles.push_back({low, low + 1, high + 1});
        mesh.triangles.push_back({low, high + 1, high});
      } else {
        mesh.triangles.push_back({low, low + 1, high});
        mesh.triangles.push_back({low + 1, high + 1, high});
      }
    }
  }
  return mesh;
}

std::vector<Vec3> vertex_normals(const TriangleMesh& mesh) {
  std::vector<Vec3> normals(mesh.vertices.size(), Vec3::Zero());
  for (const auto& corners : mesh.triangles) {
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec3& here = mesh.vertices[corners[k]];
      const Vec3 a = mesh.vertices[corners[(k + 1) % 3]] - here;
      const Vec3 b = mesh.vertices[corners[(k + 2) % 3]] - here;
      const Vec3 across = a.cross(b);
      const double sine = across.norm();
      if (sine > 0) normals[corners[k]] += std::atan2(sine, a.dot(b)) / sine * across;
    }
  }
  for (Vec3& normal : normals) normal.normalize();
  return normals;
}

}  // namespace rimload
