#include "geometry/polygon.hpp"

#include <cmath>
#include <numbers>

#include "catch.hpp"

using namespace rimload;

namespace {
// 8 x 3 mm with a bay of 2 x 1 mm in its upper side.
const Polygon bay{{0, 0}, {8, 0}, {8, 3}, {5, 3}, {5, 2}, {3, 2}, {3, 3}, {0, 3}};
}  // namespace

TEST_CASE("Area and perimeter of a rectangle with a bay are those of its parts") {
  CHECK(signed_area(bay) == Approx(8 * 3 - 2 * 1));
  CHECK(perimeter(bay) == Approx(2 * (8 + 3) + 2 * 1));
  const Polygon backwards(bay.rbegin(), bay.rend());
  CHECK(signed_area(backwards) == Approx(-22));
}

TEST_CASE("An outline winds once about what is inside and not about its bay") {
  CHECK(winding_number(bay, {1, 1}) == 1);
  CHECK(winding_number(bay, {4, 2.5}) == 0);
  CHECK(winding_number(bay, {9, 1}) == 0);
  const Polygon backwards(bay.rbegin(), bay.rend());
  CHECK(winding_number(backwards, {1, 1}) == -1);
}

TEST_CASE("The distance to the border is that to the nearest side or corner") {
  CHECK(border_distance(bay, {4, 1}) == Approx(1));
  CHECK(border_distance(bay, {4, 2.25}) == Approx(0.25));
  CHECK(border_distance(bay, {11, 7}) == Approx(5));  // 3, 4, 5 from the corner
  CHECK(border_distance(bay, {8, 1}) < 1e-12);
}

TEST_CASE("A ray ends where it first meets the outline, beyond what lies too near") {
  CHECK(ray_length(bay, {1, 2.5}, {1, 0}, 0).value() == Approx(2));
  CHECK(ray_length(bay, {1, 2.5}, {2, 0}, 2.1).value() == Approx(4));
  CHECK(ray_length(bay, {1, 2.5}, {1, 0}, 4.1).value() == Approx(7));
  CHECK_FALSE(ray_length(bay, {9, 1}, {1, 0}, 0).has_value());
  CHECK(ray_length(bay, {0, 0}, {1, 0.25}, 0.1).value() == Approx(std::hypot(8, 2)));
}

TEST_CASE("Turned by a right angle the extent changes its sides, and moving leaves its size") {
  const Extent turned = extent_of(rotated(bay, std::numbers::pi / 2));
  CHECK(turned.size().x() == Approx(3));
  CHECK(turned.size().y() == Approx(8));
  CHECK(turned.low.x() == Approx(-3));
  const Extent moved = extent_of(shifted(bay, {10, -1}));
  CHECK((moved.size() - Vec2(8, 3)).norm() < 1e-12);
  CHECK((moved.low - Vec2(10, -1)).norm() < 1e-12);
}
