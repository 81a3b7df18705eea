#include "contact/strap_pull.hpp"

#include "catch.hpp"
#include "contact/pose.hpp"

using namespace rimload;

TEST_CASE("a band is slack, then blends into a spring") {
  const Band band{0.2, 100};
  CHECK(band_tension(band, 90).tension_n == 0);
  CHECK(band_tension(band, 90).slope_n_mm == 0);
  CHECK(band_tension(band, 110).tension_n == Approx(0.2 * (10 - band_blend_mm / 2)));
  CHECK(band_tension(band, 110).slope_n_mm == Approx(0.2));
  CHECK(band_tension(band, 100.25).tension_n == Approx(0.2 * 0.25 * 0.25 / (2 * band_blend_mm)));
  for (const double length : {100.1, 100.4, 101.0}) {
    const double difference = (band_tension(band, length + 1e-6).tension_n -
                               band_tension(band, length - 1e-6).tension_n) /
                              2e-6;
    CHECK(band_tension(band, length).slope_n_mm == Approx(difference).epsilon(1e-7));
  }
}

TEST_CASE("a band cut for a tension has it at that length") {
  for (const double tension : {0.0, 0.01, 0.05, 0.5, 8.0}) {
    const Band band = band_with_tension(0.2, tension, 130);
    CHECK(band_tension(band, 130).tension_n == Approx(tension).margin(1e-12));
  }
}

TEST_CASE("a strap pulls along its course and turns the mask about its reference point") {
  const Band band = band_with_tension(0.2, 3, 50);
  const Wrench pull = strap_pull(band, {10, 0, 0}, {10, 0, -50});
  CHECK((pull.value.head<3>() - Vec3(0, 0, -3)).norm() < 1e-12);
  CHECK((pull.value.tail<3>() - Vec3(0, 30, 0)).norm() < 1e-12);
}

TEST_CASE("the slope of a strap's pull is its finite difference, shift and turn") {
  const Vec3 anchor(31, 44, 25);
  const Vec3 exit(72, 20, -80);
  for (const double tension : {0.03, 2.0}) {  // in the blend and beyond
    const Band band = band_with_tension(0.2, tension, (exit - anchor).norm());
    // The mask's reference point is the origin; when it shifts, the exit stays where it was.
    const auto at = [&](const Vec3& shift, const Vec3& turn) {
      return strap_pull(band, rotation_from_vector(turn) * anchor, exit - shift).value;
    };
    Mat6 difference;
    for (int axis = 0; axis < 3; ++axis) {
      const Vec3 d = 1e-5 * Vec3::Unit(axis);
      const Vec3 r = 1e-7 * Vec3::Unit(axis);
      const Vec3 none = Vec3::Zero();
      difference.col(axis) = (at(d, none) - at(-d, none)) / 2e-5;
      difference.col(axis + 3) = (at(none, r) - at(none, -r)) / 2e-7;
    }
    // Rounding of moments near 200 N mm over the step: 1e-7 of the slope.
    CHECK((strap_pull(band, anchor, exit).slope - difference).norm() < 1e-6 * difference.norm());
  }
}
