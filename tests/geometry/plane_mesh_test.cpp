#include "geometry/plane_mesh.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "catch.hpp"
#include "geometry/patch_shapes.hpp"
#include "units/error.hpp"

using namespace rimload;

namespace {

const Polygon band{{0, 0}, {40, 0}, {40, 18}, {0, 18}};

double area_of(const PlaneMesh& mesh) {
  double area = 0;
  for (const auto& t : mesh.triangles) {
    area +=
        0.5 * cross(mesh.points[t[1]] - mesh.points[t[0]], mesh.points[t[2]] - mesh.points[t[0]]);
  }
  return area;
}

double least_angle(const PlaneMesh& mesh) {
  double least = std::numbers::pi;
  for (const auto& t : mesh.triangles) {
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec2 a = mesh.points[t[(k + 1) % 3]] - mesh.points[t[k]];
      const Vec2 b = mesh.points[t[(k + 2) % 3]] - mesh.points[t[k]];
      least = std::min(least, std::atan2(cross(a, b), a.dot(b)));  // negative where turned over
    }
  }
  return least;
}

double longest_edge(const PlaneMesh& mesh) {
  double longest = 0;
  for (const auto& t : mesh.triangles) {
    for (std::size_t k = 0; k < 3; ++k) {
      longest = std::max(longest, (mesh.points[t[(k + 1) % 3]] - mesh.points[t[k]]).norm());
    }
  }
  return longest;
}

std::vector<Vec2> points_at(const PlaneMesh& mesh, const std::vector<std::uint32_t>& indices) {
  std::vector<Vec2> out;
  for (const std::uint32_t k : indices) out.push_back(mesh.points[k]);
  return out;
}

}  // namespace

TEST_CASE("A mesh covers its polygon with triangles of good shape and short edges") {
  for (const double edge : {1.0, 1.5, 4.0}) {
    CAPTURE(edge);
    const PlaneMesh mesh = mesh_polygon(band, {}, {.edge_mm = edge});
    CHECK(area_of(mesh) == Approx(720));
    CHECK(longest_edge(mesh) <= edge);
    // Refinement ends with angles of at least asin(sqrt(1/8)).
    CHECK(least_angle(mesh) >= std::asin(std::sqrt(0.125)) - 1e-9);
    const Polygon border = points_at(mesh, border_of(mesh.triangles));
    CHECK(perimeter(border) == Approx(perimeter(band)));
    CHECK(signed_area(border) == Approx(720));
  }
}

TEST_CASE("A mesh that would have too many points has longer edges instead") {
  const PlaneMesh mesh = mesh_polygon(band, {}, {.edge_mm = 0.3, .most_points = 500});
  CHECK(mesh.points.size() <= 500);
  CHECK(mesh.points.size() > 250);  // steps of 15 % of the edge lose a third of the points at most
  CHECK(area_of(mesh) == Approx(720));
  // What the border alone needs, it gets.
  const PlaneMesh crowded = mesh_polygon(disc(20, 700), {}, {.edge_mm = 1, .most_points = 500});
  CHECK(crowded.points.size() > 700);
  CHECK(crowded.points.size() < 2000);
}

TEST_CASE("Along a slit the mesh is open: its points appear twice, but for the tip") {
  const Polygon with_mouth{{0, 0}, {20, 0}, {40, 0}, {40, 18}, {0, 18}};
  const SlitLine slit{{20, 0}, {20.5, 4}, {20, 8}};
  const PlaneMesh closed = mesh_polygon(with_mouth, {}, {.edge_mm = 2});
  const PlaneMesh open = mesh_polygon(with_mouth, std::vector<SlitLine>{slit}, {.edge_mm = 2});
  CHECK(area_of(open) == Approx(720));
  const auto border_length = [](const PlaneMesh& mesh) {
    return perimeter(points_at(mesh, border_of(mesh.triangles)));
  };
  CHECK(border_length(closed) == Approx(116));
  CHECK(border_length(open) == Approx(116 + 4 * std::hypot(0.5, 4)));
  const auto times = [&](const Vec2& place) {
    return std::count(open.points.begin(), open.points.end(), place);
  };
  CHECK(times(slit[0]) == 2);
  CHECK(times(slit[1]) == 2);
  CHECK(times(slit[2]) == 1);
}

TEST_CASE("The same polygon gives the same mesh, bit for bit") {
  const PlaneMesh first = mesh_polygon(band, {}, {});
  const PlaneMesh second = mesh_polygon(band, {}, {});
  CHECK(first.points == second.points);
  CHECK(first.triangles == second.triangles);
}

TEST_CASE("A simple outline stays, counter-clockwise whichever way it was drawn") {
  const Polygon backwards(band.rbegin(), band.rend());
  for (const Polygon& outline : {band, backwards}) {
    const Polygon simple = simple_outline(outline);
    CHECK(simple.size() == 4);
    CHECK(signed_area(simple) == Approx(720));
  }
}

TEST_CASE("Where an outline runs through itself its outer edge remains") {
  // A band round a tight bend: its inner side overshoots and crosses itself at (10, 5).
  const Polygon crossing{{0, 0}, {10, -5}, {20, 0}, {20, 10}, {8, 4}, {12, 4}, {0, 10}};
  const Polygon simple = simple_outline(crossing);
  REQUIRE(signed_area(simple) > 0);
  CHECK(border_distance(simple, {10, 5}) < 1e-9);
  // The union: the outline beyond the crossing, and the loop beneath it, which lies inside.
  const Polygon expected{{0, 0}, {10, -5}, {20, 0}, {20, 10}, {10, 5}, {0, 10}};
  CHECK(signed_area(simple) == Approx(signed_area(expected)));
}

TEST_CASE("Of two parts that meet at a point the larger is kept") {
  const Polygon bow{{0, 0}, {10, 10}, {10, 0}, {0, 10}, {-3, 5}};
  const Polygon simple = simple_outline(bow);
  CHECK(signed_area(simple) == Approx(0.5 * 10 * 5 + 0.5 * 10 * 3));
  CHECK(winding_number(simple, {9, 5}) == 0);
}

TEST_CASE("Points a rounding error off the line of their neighbours do no harm") {
  // Seen: a triangle of a width of 1e-14 mm beside the outline was taken for inside.
  Polygon outline;
  for (int k = 0; k < 30; ++k) outline.emplace_back(-70 + 5 * k, -13);
  for (int k = 0; k < 9; ++k) outline.emplace_back(80 + (k % 2 == 0 ? 0 : 1.4e-14), -13 + 3 * k);
  for (int k = 0; k < 30; ++k) outline.emplace_back(80 - 5 * k, 14 + (k % 3 == 0 ? 0 : 1.8e-15));
  for (int k = 0; k < 9; ++k) outline.emplace_back(-70 - (k % 4 == 1 ? 1.4e-14 : 0), 14 - 3 * k);
  const Polygon simple = simple_outline(outline);
  CHECK(signed_area(simple) == Approx(150 * 27));
  CHECK(perimeter(simple) == Approx(2 * (150 + 27)));
  CHECK(area_of(mesh_polygon(simple, {}, {.edge_mm = 3})) == Approx(150 * 27));
}

TEST_CASE(
    "Outlines at random, most of them through themselves, give simple ones that can be meshed") {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> anywhere(-20, 20);
  std::uniform_int_distribution<int> lattice(-3, 3);
  std::uniform_int_distribution<int> how_many(3, 14);
  int meshed = 0;
  for (int n = 0; n < 300; ++n) {
    Polygon outline;
    for (int k = how_many(random); k > 0; --k) {
      // Half of them on a lattice, where points and sides coincide and line up.
      if (n % 2 == 0) {
        outline.emplace_back(anywhere(random), anywhere(random));
      } else {
        outline.emplace_back(6 * lattice(random), 6 * lattice(random));
      }
    }
    CAPTURE(n);
    Polygon simple;
    try {
      simple = simple_outline(outline);
    } catch (const InternalError&) {
      // Rightly so only where all points lie on a line or every side is run both ways.
      CHECK(n % 2 == 1);
      continue;
    }
    REQUIRE(signed_area(simple) > 0);
    CHECK(signed_area(simple) <= extent_of(outline).size().prod() + 1e-6);
    CHECK(area_of(mesh_polygon(simple, {}, {.edge_mm = 4})) == Approx(signed_area(simple)));
    ++meshed;
  }
  CHECK(meshed > 200);
}

TEST_CASE("An outline that encloses nothing is refused") {
  CHECK_THROWS_AS(simple_outline(Polygon{{0, 0}, {1, 0}}), InternalError);
  CHECK_THROWS_AS(simple_outline(Polygon{{0, 0}, {1, 0}, {2, 0}}), InternalError);
}
