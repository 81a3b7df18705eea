#include "dressing/join.hpp"

#include <numbers>

#include "catch.hpp"
#include "stored_face.hpp"

using namespace rimload;

namespace {

const SkinMap& skin() {
  static const SkinMap map(stored_face("reference").landmarks);
  return map;
}

std::vector<Vec3> square(double u, double v, double half) {
  std::vector<Vec3> out;
  for (const Vec2& corner : {Vec2(-1, -1), Vec2(1, -1), Vec2(1, 1), Vec2(-1, 1)}) {
    out.push_back(skin().point(Vec2(u, v) + half * corner));
  }
  return out;
}

}  // namespace

TEST_CASE("outlines that overlap have one border, those apart keep theirs") {
  const std::vector<std::vector<Vec3>> two{square(0, -10, 5), square(6, -10, 5)};
  CHECK(joined(skin(), two).size() == 1);
  const std::vector<std::vector<Vec3>> apart{square(0, -10, 5), square(40, -50, 5)};
  CHECK(joined(skin(), apart).size() == 2);
}

TEST_CASE("a ring of pieces has an outer and an inner border") {
  std::vector<std::vector<Vec3>> ring;
  for (int k = 0; k < 12; ++k) {
    const double angle = 2 * std::numbers::pi * k / 12;
    ring.push_back(square(25 * std::cos(angle), -50 + 25 * std::sin(angle), 8));
  }
  const auto borders = joined(skin(), ring);
  REQUIRE(borders.size() == 2);
  for (const auto& border : borders) {
    for (const Vec3& corner : border) {
      // On the skin, to the rounding of the chart's way there and back.
      CHECK(std::abs(skin().closest(corner).distance) < 1e-9);
    }
  }
}
