// How a dressing spreads a load, by closed forms and against what was published.
#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "catch.hpp"
#include "skin/section.hpp"

using namespace rimload;

namespace {

// Middles of the ranges of the evidence, section 4 (from memory); the hydrogel is assumed. Foam is
// nearly free of lateral strain, gel and hydrocolloid keep their volume.
constexpr SectionDressing hydrogel{.thickness_mm = 3, .youngs_n_mm2 = 0.02, .poisson = 0.49};
constexpr SectionDressing foam{.thickness_mm = 3.5, .youngs_n_mm2 = 0.05, .poisson = 0.1};
constexpr SectionDressing hydrocolloid{.thickness_mm = 0.45, .youngs_n_mm2 = 0.3, .poisson = 0.45};

// Line forces are the published mean pressures of bridge and cheek (66 and 15 mmHg) over 8 mm.
struct Place {
  const char* name;
  SectionTissue tissue;
  double line_force_n_mm;
};
constexpr Place bridge{"bridge along the nose", {4, 0.06, 0.45, 0}, 0.07};
constexpr Place ridge{"bridge across the nose", {4, 0.06, 0.45, 4.3}, 0.07};
constexpr Place cheek{"cheek", {15, 0.016, 0.45, 0}, 0.016};

// The lip of the demonstration's oronasal cushion; across the nose it runs straight.
SectionAnswer under_lip(const Place& place, const SectionDressing& dressing) {
  const double width = 9;
  const Section section({.layers = part_layers(place.tissue, width),
                         .bone_radius_mm = place.tissue.bone_radius_mm,
                         .dressing = dressing,
                         .half_width_mm = 5});
  SectionLip lip{.width_mm = width,
                 .crown_radius_mm = 9,
                 .stiffness_n_mm3 = 0.9e-3,
                 .travel_mm = 4,
                 .bottomed_stiffness_n_mm3 = 12e-3};
  if (place.tissue.bone_radius_mm > 0) lip.crown_radius_mm = 1e9;
  const auto answer = section.under(lip, place.line_force_n_mm);
  REQUIRE(answer);
  return *answer;
}

double section_strain(const SectionAnswer& answer) {
  return std::max(answer.fat.compression, answer.skin.compression);
}

// Area of skin and fat beneath the lip that bears more than the median stress without a dressing,
// as a part of that without a dressing.
double exposure_with(const Place& place, const SectionDressing& dressing) {
  const auto beneath = [](const SectionPoint& point) {
    return point.layer < 2 && std::abs(point.position.x()) < 5;
  };
  std::vector<std::pair<double, double>> bare;  // stress, area
  double area = 0;
  for (const SectionPoint& point : under_lip(place, {}).points) {
    if (!beneath(point)) continue;
    bare.emplace_back(point.at.von_mises(), point.area_mm2);
    area += point.area_mm2;
  }
  std::sort(bare.begin(), bare.end());
  double median = 0;
  double below = 0;
  for (const auto& [stress, part] : bare) {
    median = stress;
    below += part;
    if (below >= area / 2) break;
  }
  double exposed = 0;
  for (const SectionPoint& point : under_lip(place, dressing).points) {
    if (beneath(point) && point.at.von_mises() > median) exposed += point.area_mm2;
  }
  return exposed / (area - below);
}

}  // namespace

TEST_CASE("Between stiff faces a dressing spreads load as a shear layer on a foundation") {
  // k w - G t w'' = p [Pasternak 1954; METHODS: spread sqrt(G t/k)]: beneath a strip |x| < a,
  // w = (p/k)(1 - exp(-a/l) cosh(x/l)), outside (p/k) sinh(a/l) exp(-|x|/l), l = sqrt(G t/k).
  // It takes tissue that is a bed of springs (nu = 0, held sideways) and a layer that neither
  // bends nor is squeezed: two films that can't be stretched, and a core 100 times as stiff as the
  // tissue. The films slide over each other by (t + film)/t of the core's shear. What is left out,
  // the films' stretch and the tissue's own shear, is a few parts in a thousand each.
  const double t = 3;
  const double core = 6;
  const double film = 0.005;
  const double k = 0.06 / 4;
  const double spread = std::sqrt(core / 2 * (t + film) * (t + film) / t / k);
  const SectionBody body(
      {.layers = {{4, 0.06, 0, 3}, {film, 5e7, 0, 1}, {t, core, 0, 3}, {film, 5e7, 0, 1}},
       .columns_mm = spread_columns({20, 20, 250, 1.3})});
  const double p = 1e-3;
  const double a = 10;
  const Eigen::VectorXd moved = body.solve(body.force_of(std::vector{FaceLoad{-a, a, p, 0}}));
  int seen = 0;
  for (int column = 0; column < body.mesh().n_columns(); ++column) {
    // The layer as a whole sinks as the mean of its faces: the core is squeezed by 2 % of w. The
    // lower one is the upper side of the tissue's third row.
    const auto row = static_cast<std::size_t>(body.mesh().element_at(column, 2));
    const int node = body.mesh().elements[row][6];
    const double x = std::abs(body.mesh().nodes(0, node));
    if (x > 60) continue;
    ++seen;
    const double w = x < a ? 1 - std::exp(-a / spread) * std::cosh(x / spread)
                           : std::sinh(a / spread) * std::exp(-x / spread);
    CAPTURE(x);
    const double sinking =
        -0.5 * (moved[2 * node + 1] + moved[2 * body.mesh().outer_side(column)[1] + 1]);
    CHECK(sinking == Approx(p / k * w).epsilon(0.01));
  }
  CHECK(seen > 20);
}

TEST_CASE("A plain foam bends, and spreads less than the shear layer says") {
  // 3 mm of foam on the cheek: sqrt(G t/k) = 5 mm would leave a quarter of the pressure beneath a
  // strip of 3 mm. Without stiff faces the foam gives way by bending and squeezing too.
  const double p = 1e-3;
  const double a = 1.5;
  const double shear = foam.youngs_n_mm2 / (2 * (1 + foam.poisson));
  std::vector<StationSample> strip{{0, 2 * a, p, 0}};
  const auto bare = station_section(cheek.tissue, strip);
  const auto dressed = station_section(cheek.tissue, strip, {3, foam.youngs_n_mm2, foam.poisson});
  REQUIRE(bare);
  REQUIRE(dressed);
  const double k = p / bare->mean_sinking_mm;
  const double spread = std::sqrt(shear * 3 / k);
  const double by_formula = 1 - std::exp(-a / spread);
  CAPTURE(spread, by_formula, dressed->skin_pressure_peak / p);
  CHECK(dressed->skin_pressure_peak / p > by_formula);
  CHECK(dressed->skin_pressure_peak / p < 0.8);
}

TEST_CASE("A hydrogel dressing lowers the stress in the section at the bridge", "[R3]") {
  // Evidence R3: by 20 to 60 % at the bridge [Grigatti 2022]. Here it is the pressure on the skin
  // and on the bone that fall so far, under the same line force.
  for (const Place& place : {bridge, ridge}) {
    CAPTURE(place.name);
    const SectionAnswer bare = under_lip(place, {});
    const SectionAnswer dressed = under_lip(place, hydrogel);
    CHECK(dressed.skin_pressure_peak < 0.8 * bare.skin_pressure_peak);
    CHECK(dressed.skin_pressure_peak > 0.4 * bare.skin_pressure_peak);
    CHECK(dressed.bone_pressure_peak < 0.8 * bare.bone_pressure_peak);
    CHECK(dressed.bone_pressure_peak > 0.4 * bare.bone_pressure_peak);
    CHECK(section_strain(dressed) < 0.9 * section_strain(bare));
  }
}

TEST_CASE("A hydrogel dressing spares more of the section at the cheek than at the bridge",
          "[R3]") {
  // The published measure: how much less tissue bears more than the median stress of the bare case
  // (at least 30 % at the bridge, up to 99 % at the cheek [Grigatti 2022]). Peaks do not follow
  // this: they fall less at the cheek, whose depth spreads the load by itself.
  const double at_bridge = exposure_with(bridge, hydrogel);
  const double at_cheek = exposure_with(cheek, hydrogel);
  CAPTURE(at_bridge, at_cheek);
  CHECK(at_bridge < 0.9);
  CHECK(at_cheek < 0.8);
  CHECK(at_cheek < at_bridge);
}

TEST_CASE("Foam and gel do at least as well as a thin hydrocolloid on the section's strain",
          "[R4]") {
  for (const Place& place : {bridge, ridge, cheek}) {
    CAPTURE(place.name);
    const double bare = section_strain(under_lip(place, {}));
    const double thin = section_strain(under_lip(place, hydrocolloid));
    CHECK(section_strain(under_lip(place, foam)) <= thin);
    CHECK(section_strain(under_lip(place, hydrogel)) <= thin);
    CHECK(thin < bare);
  }
}

TEST_CASE("A gel that keeps its volume drags the skin of the cheek outwards") {
  // Why a gel is no gain in every measure: squeezed between lip and skin it flows to the sides and
  // shears the skin that it is glued to, where a foam does not.
  const SectionAnswer bare = under_lip(cheek, {});
  CHECK(under_lip(cheek, hydrogel).skin.shear > 1.1 * bare.skin.shear);
  CHECK(under_lip(cheek, foam).skin.shear < under_lip(cheek, hydrogel).skin.shear);
}
