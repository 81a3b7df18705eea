#include "material/cushion_law.hpp"

#include "catch.hpp"

using namespace rimload;

namespace {
const LipLaw lip{
    .stiffness_n_mm3 = 1e-3, .travel_mm = 4, .bottomed_stiffness_n_mm3 = 15e-3, .blend_mm = 0.05};
}

TEST_CASE("a lip is a spring until its travel is used up, then one of the bottomed stiffness") {
  // Width 9 mm: 9e-3 N/mm per mm.
  CHECK(lip.force_per_length(2, 9, 1).value == Approx(18e-3));
  CHECK(lip.force_per_length(-1, 9, 1).value == Approx(-9e-3));
  CHECK(lip.force_per_length(2, 9, 1).slope == Approx(9e-3));
  CHECK(lip.force_per_length(6, 9, 1).slope == Approx(135e-3));
  // Past the blend: k u + (kb - k)(u - travel - e/2).
  CHECK(lip.force_per_length(6, 9, 1).value == Approx(9 * (6e-3 + 14e-3 * (2 - 0.025))));
}

TEST_CASE("a station's stiffness factor and width multiply the lip's force") {
  const Response plain = lip.force_per_length(4.5, 9, 1);
  CHECK(lip.force_per_length(4.5, 18, 1.5).value == Approx(3 * plain.value));
  CHECK(lip.force_per_length(4.5, 18, 1.5).slope == Approx(3 * plain.slope));
}

TEST_CASE("the slope of a lip's force is its derivative, at the blend and off it") {
  for (const double u : {-2.0, 1.0, 4.01, 4.04, 4.2, 7.0}) {
    constexpr double step = 1e-5;
    const double difference =
        (lip.force_per_length(u + step, 9, 1).value - lip.force_per_length(u - step, 9, 1).value) /
        (2 * step);
    CHECK(lip.force_per_length(u, 9, 1).slope == Approx(difference).epsilon(1e-8));
  }
}

TEST_CASE("bottoming out sets in with neither a jump in force nor in stiffness") {
  for (const double at : {4.0, 4.05}) {
    const Response below = lip.force_per_length(at - 1e-10, 9, 1);
    const Response above = lip.force_per_length(at + 1e-10, 9, 1);
    CHECK(above.value == Approx(below.value).epsilon(1e-7));
    CHECK(above.slope == Approx(below.slope).epsilon(1e-7));
  }
}
