// The map and the mesh of shapes whose distances are known in closed form.
#include <functional>
#include <random>

#include "catch.hpp"
#include "geometry/closest_point.hpp"

using namespace rimload;

namespace {

SkinMap map_of(const std::function<double(double angle, double y)>& radius, double spacing_mm) {
  const int n = 2 * static_cast<int>(std::lround(60 / spacing_mm)) + 1;
  const GridFrame frame{-60, -60, spacing_mm, n, n};
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

// A sphere off the axis: forward by 25 mm, radius 75 mm.
constexpr double forward_mm = 25;
constexpr double sphere_mm = 75;
const Vec3 centre(0, 0, SkinMap::axis_z_mm + forward_mm);

double sphere_radius(double angle, double y) {
  const double across = forward_mm * std::sin(angle);
  return forward_mm * std::cos(angle) + std::sqrt(sphere_mm * sphere_mm - y * y - across * across);
}

// Queries up to 2.9 mm off the sphere, where the map's distance is that to the closest point; 20 mm
// of arc or more from the grid's border.
std::vector<Vec3> queries() {
  std::vector<Vec3> points;
  std::mt19937 random(7);
  const auto uniform = [&] { return static_cast<double>(random()) / 2147483648.0 - 1; };
  for (int k = 0; k < 300; ++k) {
    const Vec3 way = Vec3(0.4 * uniform(), 0.4 * uniform(), 1).normalized();
    points.push_back(centre + (sphere_mm + 2.9 * uniform()) * way);
  }
  return points;
}

double worst_sphere_error(double spacing_mm) {
  const SkinMap skin = map_of(sphere_radius, spacing_mm);
  double worst = 0;
  for (const Vec3& query : queries()) {
    const double exact = (query - centre).norm() - sphere_mm;
    worst = std::max(worst, std::abs(skin.closest(query).distance - exact));
  }
  return worst;
}

}  // namespace

TEST_CASE("the map of a sphere off the axis has the sphere's distances, to fourth order") {
  CHECK(worst_sphere_error(1) < 1e-6);
  CHECK(std::log2(worst_sphere_error(4) / worst_sphere_error(2)) == Approx(4).margin(0.6));
}

TEST_CASE("normal and Hessian of the map of a sphere are those of the sphere") {
  const SkinMap skin = map_of(sphere_radius, 1);
  for (const Vec3& query : queries()) {
    const SkinPoint p = skin.closest(query);
    const Vec3 way = (query - centre).normalized();
    const Mat3 exact = (Mat3::Identity() - way * way.transpose()) / (query - centre).norm();
    CHECK((p.normal - way).norm() < 1e-6);
    CHECK((p.normal_slope - exact).norm() < 1e-4);  // second derivatives: second order in the grid
  }
}

TEST_CASE("the map of a cylinder about the axis is exact") {
  const SkinMap skin = map_of([](double, double) { return 80.0; }, 1);
  for (const Vec3& query : queries()) {
    const double exact = std::hypot(query.x(), query.z() - SkinMap::axis_z_mm) - 80;
    CHECK(skin.closest(query).distance == Approx(exact).margin(1e-10));
    CHECK(skin.first_order_distance(query) == Approx(exact).margin(1e-10));
  }
}

TEST_CASE("the mesh of a sphere has the sphere's distances, to second order") {
  const SkinMap skin = map_of(sphere_radius, 1);
  const auto worst_error = [&](double spacing_mm) {
    const ClosestPoint closest(make_mesh(skin, grid_region(skin), spacing_mm));
    double worst = 0;
    for (const Vec3& query : queries()) {
      const MeshPoint found = closest(query);
      worst = std::max(worst, std::abs(found.distance - ((query - centre).norm() - sphere_mm)));
      CHECK(found.normal.dot((query - centre).normalized()) > 0.999);
    }
    return worst;
  };
  // Sagitta of a facet whose longest side is s times sqrt 2 times r/R0: (1.5 s)^2 / (8 R).
  CHECK(worst_error(2) < 9.0 / (8 * sphere_mm));
  CHECK(std::log2(worst_error(4) / worst_error(2)) == Approx(2).margin(0.4));
}
