#include "leak/tube_channel.hpp"

#include <array>
#include <cmath>
#include <numbers>

#include "catch.hpp"
#include "leak/seal_law.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

constexpr Gas gas{.density = 1.12e-12, .viscosity = 1.88e-11};
constexpr double pi = std::numbers::pi;
constexpr double cmh2o = units::cmh2o;
constexpr double rigid = 1e9;  // skin that the tube does not sink into [N/mm2]

/// A feeding tube under a soft lip: invented values.
constexpr TubeUnderLip soft{.diameter_mm = 4,
                            .bending = 6,
                            .tension = 0.3,
                            .foundation = 0.01,
                            .skin_stiffness = 0.1,
                            .line_load = 0.03,
                            .gas_share = 0.5,
                            .contact_width_mm = 9};

/// A bare lip on a fine tube on rigid skin, nothing pressing but its own stiffness.
TubeUnderLip fine_tube(double bending, double tension) {
  return {.diameter_mm = 0.01,
          .bending = bending,
          .tension = tension,
          .foundation = 0.05,
          .skin_stiffness = rigid,
          .contact_width_mm = 9};
}

double circle(double diameter) { return pi * diameter * diameter / 4; }

}  // namespace

TEST_CASE("A lip without tension presses a fine tube as Hetenyi's point-loaded beam") {
  const TubeUnderLip tube = fine_tube(50, 0);
  const TubeChannel channel = tube_channel(tube, 0, gas);
  // Deflection P beta/(2k) under a point load on an infinite beam [Hetenyi 1946, chapter 2], so
  // P = 8 EI beta^3 H. That beam would pull on the skin; with one that lands where slope and
  // curvature vanish, at beta x = pi, the load is coth(pi) and the area coth(pi/2) times as large.
  const double beta = std::pow(0.05 / (4 * 50), 0.25);
  const double hetenyi = 8 * 50 * std::pow(beta, 3) * 0.01;
  CHECK(channel.stand_off_mm == Approx(0.01).epsilon(1e-6));
  CHECK(channel.tube_load == Approx(hetenyi).epsilon(0.004));
  CHECK(channel.tube_load == Approx(hetenyi / std::tanh(pi)).epsilon(1e-5));
  CHECK(channel.span_mm == Approx(pi / beta).epsilon(1e-3));
  const double area = 2 * 0.01 / beta / std::tanh(pi / 2) - circle(0.01);
  CHECK(channel.channel_area_mm2 == Approx(area).epsilon(1e-5));
}

TEST_CASE("A lip with tension alone presses a fine tube as a string on an elastic bed") {
  const TubeChannel channel = tube_channel(fine_tube(0, 0.5), 0, gas);
  // w = H exp(-x sqrt(k/N)): twice its slope times N, and twice its area. The fine tube's own
  // width, 0.01 mm, beside the decay length of 3.2 mm is the tolerance.
  CHECK(channel.tube_load == Approx(2 * std::sqrt(0.5 * 0.05) * 0.01).epsilon(5e-3));
  const double area = 2 * 0.01 * std::sqrt(0.5 / 0.05) - circle(0.01);
  CHECK(channel.channel_area_mm2 == Approx(area).epsilon(5e-3));
}

TEST_CASE("A lip with bending and tension presses a fine tube as a tensioned beam") {
  // Point stiffness 2 sqrt(k (N + 2 sqrt(EI k))) of an infinite beam: it never dips below the skin
  // where N > 2 sqrt(EI k), so landing changes nothing [Hetenyi 1946, chapter 6].
  for (const double tension : {0.7, 2.0, 10.0}) {
    CAPTURE(tension);
    const double stiffness = 2 * std::sqrt(0.05 * (tension + 2 * std::sqrt(2 * 0.05)));
    const TubeChannel channel = tube_channel(fine_tube(2, tension), 0, gas);
    CHECK(channel.tube_load == Approx(stiffness * 0.01).epsilon(1e-6));
  }
}

TEST_CASE("Where the roots of the beam equation meet nothing jumps") {
  const double equal = 2 * std::sqrt(2 * 0.05);
  const double at = tube_channel(fine_tube(2, equal), 0, gas).tube_load;
  CHECK(at == Approx(2 * std::sqrt(0.05 * 2 * equal) * 0.01).epsilon(1e-6));
  for (const double aside : {1 - 1e-7, 1 + 1e-7}) {
    CHECK(tube_channel(fine_tube(2, equal * aside), 0, gas).tube_load == Approx(at).epsilon(1e-6));
  }
}

TEST_CASE("A membrane under even pressure lies over a cylinder as an arc between two tangents") {
  // Plane geometry: the membrane's arc of radius R = N/q touches the cylinder (radius r) and the
  // skin, so its foot lies 2 sqrt(R r) from the axis and the channel is a trapezium less the two
  // sectors. Slopes are taken as small, so the tolerance follows the slope squared, 4 r/R.
  struct Row {
    double arc_mm;
    double tolerance;
  };
  for (const Row& row : {Row{2000, 3e-3}, Row{50, 0.04}}) {
    const double r = 0.5;
    const double load = 0.5 / row.arc_mm;
    const TubeUnderLip tube{.diameter_mm = 2 * r,
                            .tension = 0.5,
                            .foundation = 1e-3 * load,
                            .skin_stiffness = rigid,
                            .line_load = load,
                            .contact_width_mm = 9};
    const double foot = 2 * std::sqrt(row.arc_mm * r);
    const double at_tube = pi / 2 + std::atan((row.arc_mm - r) / foot);
    const double area = foot * (r + row.arc_mm) / 2 - r * r * at_tube / 2 -
                        row.arc_mm * row.arc_mm * (pi - at_tube) / 2;
    const TubeChannel channel = tube_channel(tube, 0, gas);
    CAPTURE(row.arc_mm);
    CHECK(channel.span_mm == Approx(foot).epsilon(row.tolerance));
    CHECK(channel.channel_area_mm2 == Approx(2 * area).epsilon(row.tolerance));
  }
}

TEST_CASE("A limp lip leaves only the corners under the tube's flanks") {
  // Hanging straight down at the flanks it bounds a box of 2r by 2r, rounded above, with the circle
  // in it: two corners of r^2 (1 - pi/4).
  TubeUnderLip tube = soft;
  tube.bending = 0;
  tube.tension = 0;
  tube.skin_stiffness = rigid;
  const TubeChannel channel = tube_channel(tube, 10 * cmh2o, gas);
  CHECK(channel.channel_area_mm2 == Approx(2 * 4 * (1 - pi / 4)).epsilon(0.02));
  CHECK(channel.span_mm == Approx(2).epsilon(0.02));
}

TEST_CASE("The tube sinks by its load over the skin's stiffness, and presses the skin with it") {
  for (const double skin : {0.03, 0.1, 1.0}) {
    TubeUnderLip tube = soft;
    tube.skin_stiffness = skin;
    const TubeChannel channel = tube_channel(tube, 10 * cmh2o, gas);
    CAPTURE(skin);
    // Hooke's law and the definition of pressure.
    CHECK(4 - channel.stand_off_mm == Approx(channel.tube_load / (skin * 9)).epsilon(1e-9));
    CHECK(channel.skin_pressure == Approx(channel.tube_load / (4 * 9)).epsilon(1e-12));
    CHECK(channel.stand_off_mm > 0);
  }
}

TEST_CASE("A stiff lip pushes a tube nearly flush with very soft skin, and little passes then") {
  TubeUnderLip tube = soft;
  tube.bending = 100;
  tube.foundation = 0.05;
  tube.skin_stiffness = 1e-3;
  const TubeChannel channel = tube_channel(tube, 10 * cmh2o, gas);
  CHECK(channel.stand_off_mm > 0);
  CHECK(channel.stand_off_mm < 0.01 * 4);
  // The skin carries the sunk tube as a spring: 1e-3 N/mm2 x 9 mm x 4 mm at most.
  CHECK(channel.tube_load == Approx(0.036).epsilon(0.01));
  CHECK(channel.flow >= 0);
  CHECK(channel.flow < 0.01 * tube_channel(soft, 10 * cmh2o, gas).flow);
}

TEST_CASE("What presses the lip beside the tube shortens the tent and loads the tube") {
  TubeUnderLip pressed = soft;
  pressed.line_load *= 2;
  const TubeChannel before = tube_channel(soft, 10 * cmh2o, gas);
  const TubeChannel after = tube_channel(pressed, 10 * cmh2o, gas);
  CHECK(after.span_mm < before.span_mm);
  CHECK(after.channel_area_mm2 < before.channel_area_mm2);
  CHECK(after.tube_load > before.tube_load);
  // The gas behind the lip acts as a line load of phi P width.
  TubeUnderLip bare = soft;
  bare.gas_share = 0;
  bare.line_load += 0.5 * 10 * cmh2o * 9;
  CHECK(tube_channel(bare, 10 * cmh2o, gas).flow == Approx(before.flow).epsilon(1e-9));
}

TEST_CASE("Nothing passes without a tube or without pressure") {
  TubeUnderLip none = soft;
  none.diameter_mm = 0;
  const TubeChannel channel = tube_channel(none, 10 * cmh2o, gas);
  CHECK(channel.flow == 0);
  CHECK(channel.channel_area_mm2 == 0);
  CHECK(channel.tube_load == 0);
  CHECK(tube_channel(soft, 0, gas).flow == 0);
  CHECK(tube_channel(soft, 0, gas).channel_area_mm2 > 0);
  // A tube that fades away takes its leak with it.
  TubeUnderLip tiny = soft;
  tiny.diameter_mm = 1e-3;
  CHECK(tube_channel(tiny, 10 * cmh2o, gas).flow < 1e-3 * tube_channel(soft, 10 * cmh2o, gas).flow);
}

TEST_CASE("A larger tube leaks more, and so does a higher pressure behind a half gas-backed lip") {
  for (const double diameter : {2.0, 4.0, 6.0}) {
    for (const double bending : {0.0, 5.0, 50.0}) {
      for (const double tension : {0.1, 0.5}) {
        for (const double foundation : {0.008, 0.05}) {
          for (const double gas_share : {0.0, 0.5}) {
            for (const double pressure : {5 * cmh2o, 20 * cmh2o}) {
              CAPTURE(diameter, bending, tension, foundation, gas_share, pressure);
              TubeUnderLip tube = soft;
              tube.diameter_mm = diameter;
              tube.bending = bending;
              tube.tension = tension;
              tube.foundation = foundation;
              tube.gas_share = gas_share;
              const TubeChannel channel = tube_channel(tube, pressure, gas);
              CHECK(tube_channel(tube, 1.02 * pressure, gas).flow > channel.flow);
              tube.diameter_mm *= 1.02;
              const TubeChannel larger = tube_channel(tube, pressure, gas);
              CHECK(larger.flow > channel.flow);
              CHECK(larger.channel_area_mm2 > channel.channel_area_mm2);
              CHECK(larger.tube_load > channel.tube_load);
            }
          }
        }
      }
    }
  }
}

TEST_CASE("Slow gas passes a triangular duct as the exact solution says") {
  // Q = sqrt(3) a^4 P/(320 mu L) for an equilateral triangle of side a [Shah and London 1978].
  const double a = 2;
  const Duct duct{std::sqrt(3) / 4 * a * a, 3 * a, 9};
  const double p = 1e-6 * cmh2o;  // so slow that inertia takes no part in 1e4
  const double expected = std::sqrt(3) * std::pow(a, 4) * p / (320 * gas.viscosity * 9);
  CHECK(duct_flow(duct, p, gas, 0) == Approx(expected).epsilon(1e-12));
  CHECK(duct_flow(duct, p, gas, 1.5) == Approx(expected).epsilon(1e-3));
}

TEST_CASE("Fast gas passes a short duct as an orifice") {
  // V = sqrt(2 P/(K rho)) [White 2011, section 6.9, minor losses].
  const Duct duct{3, 8, 1e-9};
  const double p = 10 * cmh2o;
  const double expected = 3 * std::sqrt(2 * p / (1.5 * gas.density));
  CHECK(duct_flow(duct, p, gas, 1.5) == Approx(expected).epsilon(1e-6));
  CHECK(duct_flow(duct, 4 * p, gas, 1.5) == Approx(2 * expected).epsilon(1e-6));
  CHECK(duct_flow({0, 8, 9}, p, gas, 1.5) == 0);
  CHECK(duct_flow(duct, 0, gas, 1.5) == 0);
}

TEST_CASE("The gas beside a tube loses no less than an orifice of the channel's area would cost") {
  const TubeChannel channel = tube_channel(soft, 10 * cmh2o, gas);
  const double orifice =
      channel.channel_area_mm2 * std::sqrt(2 * 10 * cmh2o / (seal_law().slot_loss * gas.density));
  CHECK(channel.flow < orifice);
  CHECK(channel.flow > orifice / 2);  // a wide short duct: friction takes the smaller part
}
