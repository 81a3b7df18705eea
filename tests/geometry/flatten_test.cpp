#include "geometry/flatten.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "catch.hpp"
#include "geometry/conformal_map.hpp"
#include "geometry/patch_shapes.hpp"
#include "geometry/skin_patch.hpp"
#include "units/error.hpp"

using namespace rimload;

namespace {

constexpr double pi = std::numbers::pi;

// The largest error of any distance between two points, against the plane they came from.
double worst_distance(const PlaneMesh& plane, const FlatPatch& flat) {
  double worst = 0;
  for (std::size_t a = 0; a < plane.points.size(); ++a) {
    for (std::size_t b = 0; b < a; ++b) {
      worst = std::max(worst, std::abs((plane.points[a] - plane.points[b]).norm() -
                                       (flat.points[a] - flat.points[b]).norm()));
    }
  }
  return worst;
}

double flat_area(const TriangleMesh& patch, const FlatPatch& flat) {
  double area = 0;
  for (const auto& t : patch.triangles) {
    area +=
        0.5 * cross(flat.points[t[1]] - flat.points[t[0]], flat.points[t[2]] - flat.points[t[0]]);
  }
  return area;
}

}  // namespace

TEST_CASE("A cylinder meshed along its generators lies flat exactly") {
  // Strips between generators are plane; the flat width of one is its chord.
  constexpr double radius = 8;
  const PlaneMesh arcs = grid_mesh(20, 12, {1.2, 1.5});
  const TriangleMesh patch = lifted(arcs, [&](const Vec2& p) { return on_cylinder(p, radius); });
  const FlatPatch flat = flatten(patch);
  CHECK(flat.end == FlattenEnd::converged);
  const double chord = 2 * radius * std::sin(0.5 * 1.2 / radius);
  const PlaneMesh unrolled = grid_mesh(20, 12, {chord, 1.5});
  CHECK(worst_distance(unrolled, flat) < 1e-7);
  CHECK(stretch_of(flat, 0).most() < 1e-8);
  CHECK(flat.energy < 1e-15);
}

TEST_CASE("A cone meshed along its generators lies flat exactly") {
  // Rows at distance s from the apex, generators by angle; a facet between two generators spans
  // 2 asin(sin(half) sin(step/2)) of the flat sector.
  constexpr double half_opening = 0.6;
  constexpr int n = 24;
  constexpr double step = 0.11;
  const PlaneMesh polar = grid_mesh(n, 10, {step, 2});
  const TriangleMesh patch = lifted(polar, [&](const Vec2& p) {
    const double s = 10 + p.y();
    return Vec3(-s * std::sin(half_opening) * std::cos(p.x()),
                s * std::sin(half_opening) * std::sin(p.x()), -s * std::cos(half_opening));
  });
  const FlatPatch flat = flatten(patch);
  const double facet = 2 * std::asin(std::sin(half_opening) * std::sin(0.5 * step));
  PlaneMesh sector = polar;
  for (Vec2& p : sector.points) {
    const double angle = p.x() / step * facet;
    p = (10 + p.y()) * Vec2(std::cos(angle), std::sin(angle));
  }
  CHECK(worst_distance(sector, flat) < 1e-7);
  CHECK(stretch_of(flat, 0).most() < 1e-8);
}

TEST_CASE("A cylinder meshed without regard to its generators lies flat but for its chords") {
  // Off the generators a chord of length h is short by up to h^2/(24 R^2), and neighbours by other
  // amounts: strain of that order remains, and falls with the square of the edge.
  constexpr double radius = 8;
  const Polygon band{{-12, 0}, {12, 0}, {12, 18}, {-12, 18}};
  double before = 0;
  for (const double edge : {2.0, 1.0}) {
    CAPTURE(edge);
    const PlaneMesh arcs = mesh_polygon(band, {}, {.edge_mm = edge});
    const TriangleMesh patch = lifted(arcs, [&](const Vec2& p) { return on_cylinder(p, radius); });
    const FlatPatch flat = flatten(patch);
    CHECK(stretch_of(flat, 0).most() < edge * edge / (24 * radius * radius));
    const double worst = worst_distance(arcs, flat);
    CHECK(worst < 30 * edge * edge / (24 * radius * radius));  // 30 mm across the corners
    if (before > 0) CHECK(worst < 0.35 * before);              // a quarter, and what meshes vary
    before = worst;
  }
}

TEST_CASE("A shallow cap of a sphere has the area error of a sheet without lateral contraction") {
  // Minimising e_r^2 + e_t^2, e_r = u', e_t = u/r + r^2/(6 R^2), free at r = S:
  // e_r = (r^2 - S^2)/(16 R^2), e_t = (3 r^2 - S^2)/(16 R^2), so flat over curved area is
  // 1 + (2 r^2 - S^2)/(8 R^2), and the mean energy 4 (e_r^2 + e_t^2) is S^4/(48 R^4). The next
  // terms are of the order (S/R)^2 of these.
  constexpr double cap = 10;
  const PlaneMesh plane = mesh_polygon(disc(cap, 63), {}, {.edge_mm = 1});
  for (const double ratio : {0.05, 0.2, 0.4}) {
    CAPTURE(ratio);
    const double radius = cap / ratio;
    const FlatPatch flat =
        flatten(lifted(plane, [&](const Vec2& p) { return on_sphere(p, radius); }));
    const double scale = ratio * ratio / 8;
    double squares = 0;
    double area = 0;
    double worst = 0;
    for (std::size_t k = 0; k < flat.areas.size(); ++k) {
      double r_squared = 0;  // mean over the triangle's corners
      for (const std::uint32_t corner : plane.triangles[k]) {
        r_squared += plane.points[corner].squaredNorm() / 3;
      }
      const double expected = (2 * r_squared - cap * cap) / (8 * radius * radius);
      const double error = flat.singular_values[k].prod() - 1 - expected;
      worst = std::max(worst, std::abs(error));
      squares += flat.areas[k] * error * error;
      area += flat.areas[k];
    }
    // Strain is constant on a triangle where the true one changes by 2 h/S of the scale.
    CHECK(worst < 0.1 * scale);
    CHECK(std::sqrt(squares / area) < 0.025 * scale);
    CHECK(flat.energy == Approx(std::pow(ratio, 4) / 48).epsilon(0.03));
    // Stretched most at the pole, S^2/(16 R^2); shortened most at the edge, S^2/(8 R^2).
    CHECK(stretch_of(flat, 0).stretch == Approx(scale / 2).epsilon(0.02));
    // The latter in a single triangle at the edge.
    CHECK(stretch_of(flat, 0).shortening == Approx(scale).epsilon(0.1));
  }
}

TEST_CASE("The error of the shallow cap's formula grows with its depth as the next term does") {
  // (S/R)^2 of the leading term: at 1.2 about nine times what it is at 0.4.
  const PlaneMesh plane = mesh_polygon(disc(10, 63), {}, {.edge_mm = 1});
  const auto energy_error = [&](double ratio) {
    const FlatPatch flat =
        flatten(lifted(plane, [&](const Vec2& p) { return on_sphere(p, 10 / ratio); }));
    return flat.energy / (std::pow(ratio, 4) / 48) - 1;
  };
  const double mesh_alone = energy_error(0.05);
  const double shallow = energy_error(0.6) - mesh_alone;
  const double deep = energy_error(1.2) - mesh_alone;
  CHECK(deep / shallow == Approx(4).epsilon(0.2));
}

TEST_CASE("A shallow cap keeps its area as a whole") {
  // The mean over the cap of (2 r^2 - S^2)/(8 R^2) is zero.
  const PlaneMesh plane = mesh_polygon(disc(10, 63), {}, {.edge_mm = 1});
  const TriangleMesh patch = lifted(plane, [](const Vec2& p) { return on_sphere(p, 50); });
  const FlatPatch flat = flatten(patch);
  double area = 0;
  for (const double each : flat.areas) area += each;
  CHECK(flat_area(patch, flat) == Approx(area).epsilon(2e-4));  // (S/R)^2 / 8 is 5e-3
}

TEST_CASE("A patch elsewhere in space, turned about, lies flat the same way") {
  const PlaneMesh plane = mesh_polygon(disc(10, 40), {}, {.edge_mm = 1.5});
  const TriangleMesh patch = lifted(plane, [](const Vec2& p) { return on_sphere(p, 15); });
  TriangleMesh moved = patch;
  const Mat3 turn = Eigen::AngleAxisd(1.1, Vec3(1, -2, 0.5).normalized()).toRotationMatrix();
  for (Vec3& v : moved.vertices) v = turn * v + Vec3(40, -70, 20);
  const FlatPatch here = flatten(patch);
  const FlatPatch there = flatten(moved);
  // Newton ends where a step would gain 1e-16 of mean energy: strains to 1e-8, 20 mm to 1e-6.
  CHECK(worst_distance({here.points, {}}, there) < 1e-6);
}

TEST_CASE("A hemisphere and more still lies flat without folds") {
  for (const double ratio : {pi / 2, 2.5}) {
    const PlaneMesh plane = mesh_polygon(disc(10, 40), {}, {.edge_mm = 1});
    const TriangleMesh patch =
        lifted(plane, [&](const Vec2& p) { return on_sphere(p, 10 / ratio); });
    const FlatPatch flat = flatten(patch);
    CHECK(flat.end == FlattenEnd::converged);
    CHECK(is_unfolded(patch, flat.points));
    const auto folded = std::count_if(flat.singular_values.begin(), flat.singular_values.end(),
                                      [](const Vec2& s) { return s[1] <= 0; });
    CHECK(folded == 0);
  }
}

TEST_CASE("The tip of a finger, whose conformal map folds, lies flat without folds") {
  // Half a sphere and a tube of 15 mm behind it: the conformal map shrinks the tip beyond what
  // numbers hold.
  const PlaneMesh plane = mesh_polygon(disc(25, 60), {}, {.edge_mm = 1.5});
  const double radius = 20 / pi;
  const TriangleMesh patch = lifted(plane, [&](const Vec2& p) {
    const double r = p.norm();
    if (r <= 10) return on_sphere(p, radius);
    return Vec3(radius * p.x() / r, radius * p.y() / r, 10 - r);
  });
  const FlatPatch flat = flatten(patch);
  CHECK(is_unfolded(patch, flat.points));
  CHECK(flat.end == FlattenEnd::converged);
  CHECK(flat.energy > 1);  // nothing that a sheet would do
}

TEST_CASE("What is no disc is refused") {
  // A tetrahedron has no border.
  TriangleMesh closed;
  closed.vertices = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
  closed.triangles = {{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {0, 3, 2}};
  CHECK_THROWS_AS(flatten(closed), InternalError);
  // Three triangles on one edge.
  TriangleMesh book;
  book.vertices = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {0, -1, 0}};
  book.triangles = {{0, 1, 2}, {0, 1, 3}, {0, 1, 4}};
  CHECK_THROWS_AS(flatten(book), InternalError);
}

TEST_CASE("Left out of the stretch is the most stretched area and no more") {
  FlatPatch patch;
  patch.singular_values = {{1, 0.5}, {1.25, 0.8}, {1, 1}};
  patch.areas = {1, 2, 7};
  CHECK(stretch_of(patch, 0).stretch == Approx(1));
  CHECK(stretch_of(patch, 0.05).stretch == Approx(1));
  CHECK(stretch_of(patch, 0.15).stretch == Approx(0.25));
  CHECK(stretch_of(patch, 0.35).stretch == Approx(0).margin(1e-12));
  CHECK(stretch_of(patch, 0).shortening == Approx(0.2));
  CHECK(stretch_of(patch, 0.25).shortening == Approx(0).margin(1e-12));
}
