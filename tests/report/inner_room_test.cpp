#include "report/inner_room.hpp"

#include <cmath>

#include "catch.hpp"

using namespace rimload;

namespace {
const Polygon plate{{0, 0}, {30, 0}, {30, 20}, {0, 20}};
}

TEST_CASE("A box is put in the middle where nothing is in its way") {
  const InnerRoom room(plate, {});
  const auto middle = room.box({10, 6});
  REQUIRE(middle.has_value());
  CHECK((*middle - Vec2(15, 10)).norm() < 1);  // to the millimetre
}

TEST_CASE("A box keeps clear of points and of what was taken before") {
  std::vector<Vec2> line;
  for (int k = 0; k <= 20; ++k) line.emplace_back(15, k);
  InnerRoom room(plate, line);
  const auto first = room.box({8, 6});
  REQUIRE(first.has_value());
  CHECK(std::abs(first->x() - 15) >= 4 + InnerRoom::clear_mm);
  room.take(*first, {8, 6});
  const auto second = room.box({8, 6});
  REQUIRE(second.has_value());
  const Vec2 apart = (*second - *first).cwiseAbs();
  CHECK((apart.x() >= 8 || apart.y() >= 6));
}

TEST_CASE("A box that is too large for the outline has no place") {
  const InnerRoom room(plate, {});
  CHECK(room.box({27, 17}).has_value());
  CHECK_FALSE(room.box({29, 10}).has_value());  // with 0.8 mm on either side
}

TEST_CASE("The farthest place keeps its distance from the outline") {
  const InnerRoom room(plate, {});
  CHECK(room.farthest({1, 0}, 2)->x() == Approx(28).margin(1));
  CHECK(room.farthest({-1, 0}, 2)->x() == Approx(2).margin(1));
  CHECK_FALSE(room.farthest({1, 0}, 11).has_value());
}
