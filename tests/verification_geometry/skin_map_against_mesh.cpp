// The radial map's closest points against an exact closest point on its own fine mesh.
#include <algorithm>
#include <cstdio>

#include "catch.hpp"
#include "geometry/closest_point.hpp"
#include "seal_region.hpp"
#include "stored_face.hpp"

using namespace rimload;

namespace {

// Above this the two found different foot points: far more than what a mesh's facets can do.
constexpr double other_foot_mm = 0.1;

struct Comparison {
  double distance_mm = 0;  // |map - mesh| at the 99.5th percentile, nothing left out
  double angle_rad = 0;    // between the normals, likewise
  double other_foot = 0;   // share
};

double percentile_99_5(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[static_cast<std::size_t>(0.995 * static_cast<double>(values.size() - 1))];
}

// Queries 3 mm inside to 3 mm outside the skin at each of the points.
Comparison compare(const SkinMap& skin, const ClosestPoint& exact, std::span<const Vec2> points) {
  std::vector<double> distance;
  std::vector<double> angle;
  int n_other = 0;
  for (std::size_t k = 0; k < points.size(); ++k) {
    const double height = -3 + 6 * static_cast<double>(k * 7 % 101) / 100;
    const Vec3 query = skin.point(points[k]) + height * skin.normal(points[k]);
    const SkinPoint map = skin.closest(query);
    const MeshPoint mesh = exact(query);
    distance.push_back(std::abs(map.distance - mesh.distance));
    angle.push_back(std::atan2(map.normal.cross(mesh.normal).norm(), map.normal.dot(mesh.normal)));
    if (distance.back() > other_foot_mm) ++n_other;
  }
  return {percentile_99_5(distance), percentile_99_5(angle),
          static_cast<double>(n_other) / static_cast<double>(points.size())};
}

}  // namespace

TEST_CASE("the map's distance and normal are those of the exact closest point on its mesh") {
  std::printf("face         line               99.5 %% of distances  of normals  other foot\n");
  for (const char* name : face_names) {
    const FaceModel face = stored_face(name);
    const SkinMap skin(face.landmarks);
    const ClosestPoint exact(make_mesh(skin, face_region(face.landmarks), 0.5));
    const auto compared = [&](const SealLine& line, double half_width_mm) {
      const Comparison result =
          compare(skin, exact, points_near(line, face.landmarks, half_width_mm, 4000));
      std::printf("%-12s %-17s  %.4f mm             %.4f rad  %.2f %%\n", name, line.mask,
                  result.distance_mm, result.angle_rad, 100 * result.other_foot);
      return result;
    };
    for (const SealLine& line : seal_lines()) {
      const Comparison result = compared(line, 6);
      INFO(name << ", " << line.mask);
      CHECK(result.distance_mm < 0.02);  // a facet of 0.5 mm over a radius of 2 mm: 0.016 mm
      CHECK(result.angle_rad < 0.05);    // the normals' own error over such a facet
      CHECK(result.other_foot < 0.002);
    }
    // The folds themselves are reported; they hold the few points with two feet.
    CHECK(compared(fold_line(), 4).other_foot < 0.02);
  }
}
