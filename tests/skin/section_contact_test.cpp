// A lip on a slice against contact mechanics by hand.
#include "skin/section_contact.hpp"

#include <cmath>
#include <numbers>

#include "catch.hpp"

using namespace rimload;

namespace {

constexpr double pi = std::numbers::pi;

double force_of(const SectionBody& body, const LipContact& contact) {
  double force = 0;
  for (int column = 0; column < body.mesh().n_columns(); ++column) {
    const EdgeNodes side = body.mesh().positions_of(body.mesh().outer_side(column));
    force += contact.pressure[static_cast<std::size_t>(column)] * (side(0, 2) - side(0, 0));
  }
  return force;
}

double peak_of(const LipContact& contact) {
  double peak = 0;
  for (const double p : contact.pressure) peak = std::max(peak, p);
  return peak;
}

// The bone so far away that the tissue is a half-plane.
SectionBody deep_tissue(double half_width, int fine) {
  const double depth = 400 * half_width;
  return SectionBody({.layers = {{depth, 0.05, 0.45, 34, 4000}},
                      .columns_mm = spread_columns({half_width, fine, 3 * depth, 1.3})});
}

SectionBody stiff_tissue() {
  return SectionBody({.layers = {{1, 1e6, 0.3, 2}}, .columns_mm = spread_columns({6, 60, 6, 1.5})});
}

}  // namespace

TEST_CASE("A rigid cylinder on deep tissue is Hertz's line contact") {
  // a^2 = 4 F R/(pi E*), p0 = 2 F/(pi a), p = p0 sqrt(1 - x^2/a^2) [Johnson 1985, 4.2(c)].
  const SectionBody body = deep_tissue(2, 64);
  const double modulus = 0.05 / (1 - 0.45 * 0.45);
  const double radius = 20;
  const double force = pi * modulus / (4 * radius);  // a = 1 mm
  const LipContact contact = press_lip(body, {.width_mm = 4, .crown_radius_mm = radius}, force);
  REQUIRE(contact.settled);
  CHECK(force_of(body, contact) == Approx(force).epsilon(1e-12));
  CHECK(contact.width_mm == Approx(2).margin(2 * 4.0 / 64));  // to a side at each end
  const double p0 = 2 * force / pi;
  for (int column = 0; column < body.mesh().n_columns(); ++column) {
    const auto k = static_cast<std::size_t>(column);
    const double x = 0.5 * (body.mesh().columns_mm[k] + body.mesh().columns_mm[k + 1]);
    const double hertz = std::abs(x) < 1 ? p0 * std::sqrt(1 - x * x) : 0;
    // Means over sides of a sixteenth of a: the root's end is off by its own sixteenth.
    CHECK(contact.pressure[k] == Approx(hertz).margin(std::abs(x) < 0.85 ? 0.01 * p0 : 0.1 * p0));
  }
}

TEST_CASE("A flat rigid punch on deep tissue presses hardest at its edges, by the inverse root") {
  // p = F/(pi sqrt(a^2 - x^2)) [Johnson 1985, equation 2.64].
  const SectionBody body = deep_tissue(1, 32);
  const LipContact contact = press_lip(body, {.width_mm = 2}, 0.1);
  REQUIRE(contact.settled);
  CHECK(contact.iterations == 1);
  for (int column = 0; column < body.mesh().n_columns(); ++column) {
    const auto k = static_cast<std::size_t>(column);
    const double from = body.mesh().columns_mm[k];
    const double to = body.mesh().columns_mm[k + 1];
    if (std::max(std::abs(from), std::abs(to)) > 1 + 1e-9) continue;
    const double mean =
        0.1 / pi * (std::asin(std::min(1.0, to)) - std::asin(std::max(-1.0, from))) / (to - from);
    // Next to the last side, where the pressure is infinite, means over sides waver.
    const bool inner = std::max(std::abs(from), std::abs(to)) < 0.8;
    CHECK(contact.pressure[k] == Approx(mean).epsilon(inner ? 0.02 : 0.15));
  }
}

TEST_CASE("A wide cylinder on thin tissue presses as on independent columns") {
  // delta = a^2/(2R), p = M (delta - x^2/2R)/h, F = 2 M a^3/(3 R h), M the confined modulus
  // [Johnson 1985, 5.8]; the rest goes with h/a, so thinner tissue must come nearer.
  const double radius = 40;
  const double a = 8;
  const double poisson = 0.3;
  const double confined = 0.05 * (1 - poisson) / ((1 + poisson) * (1 - 2 * poisson));
  double last_error = 1;
  for (const double depth : {1.0, 0.5, 0.25}) {
    const SectionBody body(
        {.layers = {{depth, 0.05, poisson, 3}}, .columns_mm = spread_columns({10, 160, 8, 1.5})});
    const double force = 2 * confined * a * a * a / (3 * radius * depth);
    const LipContact contact = press_lip(body, {.width_mm = 20, .crown_radius_mm = radius}, force);
    REQUIRE(contact.settled);
    const double p0 = confined * a * a / (2 * radius * depth);
    const double error = std::abs(peak_of(contact) / p0 - 1);
    CAPTURE(depth, error);
    CHECK(error < 0.5 * depth / a);
    CHECK(error < last_error);
    last_error = error;
    CHECK(contact.width_mm == Approx(2 * a).epsilon(0.2 * depth / a + 0.02));
  }
}

TEST_CASE("A thin layer that keeps its volume carries a cylinder by a steep dome of pressure") {
  // nu = 1/2, bonded below, free to slide above: what sinks must flow out beneath the face, so
  // p'' = -(3 G/h^3)(delta - x^2/2R), p = p' = 0 at the ends: p = G (a^2 - x^2)^2/(8 R h^3),
  // F = (2/15)(G/R) a^5/h^3 [as Johnson 1985, section 5.8, derives it].
  const double radius = 60;
  const double a = 8;
  const double depth = 0.6;
  const double youngs = 0.05;
  const double shear = youngs / 3;
  const double force = 2.0 / 15 * shear / radius * std::pow(a / depth, 3) * a * a;
  const SectionBody body(
      {.layers = {{depth, youngs, 0.4999, 4}}, .columns_mm = spread_columns({10, 120, 8, 1.5})});
  const LipContact contact = press_lip(body, {.width_mm = 20, .crown_radius_mm = radius}, force);
  REQUIRE(contact.settled);
  // nu = 0.4999 lets a part of the volume go: M/G = 5000 against (a/h)^2 = 178. Where the dome ends
  // so flatly the last depth or two of its width carry nothing.
  CHECK(peak_of(contact) ==
        Approx(shear * std::pow(a, 4) / (8 * radius * std::pow(depth, 3))).epsilon(0.1));
  CHECK(contact.width_mm == Approx(2 * a).margin(4 * depth));
}

TEST_CASE("A soft lip on tissue that hardly yields is a bed of springs alone") {
  // F = (2/3) k a^3/R, p = k (delta - x^2/2R), delta = a^2/(2R).
  const SectionBody body = stiff_tissue();
  const double k = 2e-3;
  const double radius = 5;
  const double a = 3;
  const double force = 2.0 / 3 * k * a * a * a / radius;
  const LipContact contact =
      press_lip(body, {.width_mm = 12, .crown_radius_mm = radius, .stiffness_n_mm3 = k}, force);
  REQUIRE(contact.settled);
  CHECK(contact.approach_mm == Approx(a * a / (2 * radius)).epsilon(2e-3));
  CHECK(peak_of(contact) == Approx(k * a * a / (2 * radius)).epsilon(5e-3));
  CHECK(contact.width_mm == Approx(2 * a).margin(1e-9));  // ends lie on borders of columns
}

TEST_CASE("A lip that bottoms out goes on with its larger stiffness") {
  // A flat lip, evenly pressed: travel, then (p - k travel)/kb more.
  const SectionBody body = stiff_tissue();
  const SectionLip lip{
      .width_mm = 8, .stiffness_n_mm3 = 1e-3, .travel_mm = 3, .bottomed_stiffness_n_mm3 = 15e-3};
  for (const double p : {1e-3, 3e-3, 9e-3}) {
    const LipContact contact = press_lip(body, lip, 8 * p);
    REQUIRE(contact.settled);
    const double expected = p <= 3e-3 ? p / 1e-3 : 3 + (p - 3e-3) / 15e-3;
    CHECK(contact.approach_mm == Approx(expected).epsilon(1e-6));
    CHECK(peak_of(contact) == Approx(p).epsilon(1e-4));
  }
}

TEST_CASE("No side both presses and gapes, on a ridge as on the flat") {
  for (const double bone_radius : {0.0, 4.3}) {
    for (const double crown : {4.0, 12.0, 1e4}) {
      const SectionBody body({.layers = {{3, 0.02, 0.45, 4}, {1, 0.08, 0.45, 2}},
                              .bone = {bone_radius, 0.9},
                              .columns_mm = spread_columns({6, 24, 20, 1.5})});
      const SectionLip lip{.width_mm = 10,
                           .crown_radius_mm = crown,
                           .stiffness_n_mm3 = 1e-3,
                           .travel_mm = 3,
                           .bottomed_stiffness_n_mm3 = 15e-3};
      for (const double force : {1e-3, 0.01, 0.05}) {
        CAPTURE(bone_radius, crown, force);
        const LipContact contact = press_lip(body, lip, force);
        REQUIRE(contact.settled);
        CHECK(contact.iterations < 20);
        CHECK(force_of(body, contact) == Approx(force).epsilon(1e-9));
        for (const double p : contact.pressure) CHECK(p >= 0);
      }
    }
  }
}

TEST_CASE("Sideways shear leans the pressure but not its sum") {
  const SectionBody body(
      {.layers = {{6, 0.02, 0.3, 6}}, .columns_mm = spread_columns({6, 24, 30, 1.5})});
  SectionLip lip{.width_mm = 10, .crown_radius_mm = 10, .stiffness_n_mm3 = 1e-3};
  const LipContact plain = press_lip(body, lip, 0.03);
  lip.shear_ratio = 0.4;
  const LipContact sheared = press_lip(body, lip, 0.03);
  REQUIRE(sheared.settled);
  CHECK(force_of(body, sheared) == Approx(0.03).epsilon(1e-9));
  const auto lean = [&](const LipContact& contact) {
    double sum = 0;
    for (std::size_t k = 0; k < contact.pressure.size(); ++k) {
      const double from = body.mesh().columns_mm[k];
      const double to = body.mesh().columns_mm[k + 1];
      sum += contact.pressure[k] * (to * to - from * from) / 2;
    }
    return sum / 0.03;
  };
  CHECK(lean(plain) == Approx(0).margin(1e-9));
  CHECK(std::abs(lean(sheared)) > 0.01);
  // Shear to the left mirrors it.
  lip.shear_ratio = -0.4;
  CHECK(lean(press_lip(body, lip, 0.03)) == Approx(-lean(sheared)).epsilon(1e-9));
}
