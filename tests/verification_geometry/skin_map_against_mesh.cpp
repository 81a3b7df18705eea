// The radial map's closest points against an exact closest point on its own fine mesh.
#include <algorithm>
#include <cstdio>

#include "catch.hpp"
#include "geometry/closest_point.hpp"
#include "seal_region.hpp"
#include "stored_face.hpp"

using namespace rimload;

namespace {

// Above this the two found different feet: far beyond what the mesh's facets can do.
constexpr double other_foot_mm = 0.1;

struct Comparison {
  std::vector<double> distance_mm;  // |map - mesh|, where both found the same foot
  std::vector<double> angle_rad;    // between the normals, likewise
  int n = 0;
  int n_other_foot = 0;
  double worst_other_mm = 0;

  static double percentile(std::vector<double> values, double share) {
    std::sort(values.begin(), values.end());
    return values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))];
  }
};

Comparison compare(const SkinMap& skin, const ClosestPoint& exact, std::span<const Vec2> points) {
  Comparison out;
  for (std::size_t k = 0; k < points.size(); ++k) {
    const double height = -3 + 6 * static_cast<double>(k * 7 % 101) / 100;  // -3 to 3 mm
    const Vec3 query = skin.point(points[k]) + height * skin.normal(points[k]);
    const SkinPoint map = skin.closest(query);
    const MeshPoint mesh = exact(query);
    ++out.n;
    const double difference = std::abs(map.distance - mesh.distance);
    if (difference > other_foot_mm) {
      ++out.n_other_foot;
      out.worst_other_mm = std::max(out.worst_other_mm, difference);
    }
    out.distance_mm.push_back(difference);
    out.angle_rad.push_back(
        std::atan2(map.normal.cross(mesh.normal).norm(), map.normal.dot(mesh.normal)));
  }
  return out;
}

}  // namespace

TEST_CASE("the map's distance is that of the exact closest point on its mesh") {
  for (const char* name : {"reference", "small", "large"}) {
    const FaceModel face = stored_face(name);
    const SkinMap skin(face.landmarks);
    const ClosestPoint exact(make_mesh(skin, face_region(face.landmarks), 0.5));
    for (const SealLine& line : seal_lines()) {
      const auto points = points_near(line, face.landmarks, 6, 4000);
      const Comparison result = compare(skin, exact, points);
      std::printf(
          "%-10s %-15s distance 50 %% %.5f 99 %% %.5f 99.5 %% %.5f  normal 99.5 %% %.4f rad"
          "  other foot %.2f %% (worst %.2f mm)\n",
          name, line.mask, Comparison::percentile(result.distance_mm, 0.5),
          Comparison::percentile(result.distance_mm, 0.99),
          Comparison::percentile(result.distance_mm, 0.995),
          Comparison::percentile(result.angle_rad, 0.995), 100.0 * result.n_other_foot / result.n,
          result.worst_other_mm);
    }
  }
}
