#include "geometry/round_corners.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "catch.hpp"

using namespace rimload;

namespace {

constexpr double pi = std::numbers::pi;
// Corners are found to 0.05 mm; a corner's arc is off by its chord's height, 0.3^2/(8 r), and by
// that much along its length.
constexpr double off_mm = 0.06;

Polygon rectangle(double width, double height) {
  return {{0, 0}, {width, 0}, {width, height}, {0, height}};
}

double farthest_off(const Polygon& from, const Polygon& to) {
  double most = 0;
  for (const Vec2& point : from) most = std::max(most, border_distance(to, point));
  return most;
}

}  // namespace

TEST_CASE("A square's corners become quarter circles of the radius") {
  for (const double radius : {2.0, 5.0, 8.0}) {
    CAPTURE(radius);
    const Polygon round = round_corners(rectangle(20, 20), radius);
    CHECK(std::abs(signed_area(round) - (400 - (4 - pi) * radius * radius)) <
          off_mm * 2 * pi * radius);
    CHECK(perimeter(round) == Approx(80 - (8 - 2 * pi) * radius).margin(0.2));
    for (const Vec2& point : round) {
      const Vec2 from_middle = (point - Vec2(10, 10)).cwiseAbs();
      const Vec2 past = from_middle - Vec2::Constant(10 - radius);
      if (past.minCoeff() > 0.1) CHECK(past.norm() == Approx(radius).margin(off_mm));
    }
  }
}

TEST_CASE("An inner corner is filled with a quarter circle of the radius") {
  // An L of two arms 10 mm wide; five corners outwards, one inwards.
  const Polygon angle{{0, 0}, {30, 0}, {30, 10}, {10, 10}, {10, 30}, {0, 30}};
  const double radius = 3;
  const Polygon round = round_corners(angle, radius);
  const double corner = (1 - pi / 4) * radius * radius;
  CHECK(std::abs(signed_area(round) - (500 - 5 * corner + corner)) < off_mm * 3 * pi * radius);
  // The arc about (13, 13) passes the diagonal here.
  const double on_diagonal = 13 - radius / std::sqrt(2);
  CHECK(border_distance(round, {on_diagonal, on_diagonal}) < off_mm);
}

TEST_CASE("A circle wider than the radius stays as it is") {
  Polygon circle;
  for (int k = 0; k < 120; ++k) {
    circle.emplace_back(12 * std::cos(2 * pi * k / 120), 12 * std::sin(2 * pi * k / 120));
  }
  const Polygon round = round_corners(circle, 5);
  CHECK(farthest_off(round, circle) <
        0.01);  // of its corners of 3 degrees, 12 (1 - cos 1.5) = 0.004
  CHECK(farthest_off(circle, round) < 0.01);
}

TEST_CASE("A strip narrower than the disc gets the largest round ends that go") {
  const Polygon round = round_corners(rectangle(30, 6), 5);
  const Extent extent = extent_of(round);
  // The strip keeps its sides; the radius lies within a step of a fifth of the half width.
  CHECK(extent.size().x() == Approx(30).margin(0.02));
  CHECK(extent.size().y() == Approx(6).margin(0.02));
  const double lost = 180 - signed_area(round);
  CHECK(lost > (4 - pi) * std::pow(0.8 * 3, 2) - 0.3);
  CHECK(lost < (4 - pi) * 9 + 0.3);
}

TEST_CASE("A spike thinner than the disc falls away, and a cut thinner than it closes") {
  const Polygon spike{{-15, -10}, {15, -10}, {15, -4}, {27, -4}, {15, -3.95}, {15, 10}, {-15, 10}};
  const Polygon cut{{-15, -10}, {15, -10}, {15, -2}, {7, -2}, {15, -1.95}, {15, 10}, {-15, 10}};
  const double corners = 4 * (1 - pi / 4);
  for (const Polygon& polygon : {spike, cut}) {
    const Polygon round = round_corners(polygon, 1);
    CHECK(extent_of(round).high.x() == Approx(15).margin(off_mm));
    // The cut's mouth is rounded first: twice a corner, less what the outer disc fills.
    CHECK(std::abs(signed_area(round) - (600 - corners)) < 0.5);
  }
}

TEST_CASE("Rounding once more changes nothing, and a radius of zero changes nothing") {
  const Polygon star{{10, 0}, {3, 3}, {0, 12}, {-3, 3}, {-10, 0}, {-3, -3}, {0, -12}, {3, -3}};
  const Polygon once = round_corners(star, 1);
  const Polygon twice = round_corners(once, 1);
  CHECK(farthest_off(twice, once) < 2 * off_mm);
  CHECK(farthest_off(once, twice) < 2 * off_mm);
  CHECK(round_corners(star, 0) == star);
}
