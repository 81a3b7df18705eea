// How the result must change when the case changes.
#include <cmath>

#include "catch.hpp"
#include "demo_case.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

constexpr double balance_n = 1e-5;  // two states, each balanced to 1e-6 N

PhaseState solved(const Case& input, std::vector<double> tension_n) {
  TrialPhase found = solve_case(input, std::move(tension_n));
  REQUIRE(found.seated);
  return std::move(found.state);
}

Case oronasal(double cmh2o) { return case_with(demo_cushion("demo-oronasal", "M"), cmh2o); }

// Force of pressure on the left half of the face less that on the right [N]. A sample on the
// midline is on neither half: which side rounding puts it on is a toss.
double to_the_left(const PhaseState& state) {
  double out = 0;
  for (const ContactSample& s : state.samples) {
    if (std::abs(s.position.x()) < 1e-6) continue;
    out += (s.position.x() > 0 ? 1 : -1) * s.area_mm2 * s.pressure;
  }
  return out;
}

}  // namespace

TEST_CASE("raising all straps raises the contact force by what the balance says") {
  const PhaseState before = solved(oronasal(8), {5});
  for (const double tension : {6.0, 8.0, 11.0}) {
    const PhaseState after = solved(oronasal(8), {tension});
    const Vec3 straps = strap_force(after) - strap_force(before);
    const Vec3 gas = after.gas.force_n - before.gas.force_n;
    const Vec3 contact = contact_force(after) - contact_force(before);
    CHECK((contact + straps + gas).norm() < balance_n);
    CHECK(-straps.z() > 0.5 * (tension - 5));  // four straps, drawn to the back more or less
    CHECK(contact.z() > 0);
  }
}

TEST_CASE("raising gas at fixed straps lowers contact by thrust gained less strap force regained") {
  PhaseState before = solved(oronasal(4), {6});
  for (const double cmh2o : {8.0, 12.0, 16.0}) {
    const PhaseState after = solved(oronasal(cmh2o), {6});
    const double thrust_gained = after.gas.force_n.z() - before.gas.force_n.z();
    const double strap_regained = strap_force(before).z() - strap_force(after).z();
    const double contact_lost = contact_force(before).z() - contact_force(after).z();
    CHECK(contact_lost == Approx(thrust_gained - strap_regained).margin(balance_n));
    CHECK(thrust_gained > 0);
    CHECK(strap_regained > 0);  // pushed forward, the straps stretch
    CHECK(contact_lost > 0);
    before = after;
  }
}

TEST_CASE("at fixed straps every pressed site is pressed harder in expiration (V5)") {
  const PhaseState low = solved(oronasal(6), {7});
  const PhaseState high = solved(oronasal(14), {7});
  const BySite inspiration = pressed_sites(oronasal(14), high);
  int n = 0;
  for (const auto& [place, site] : pressed_sites(oronasal(6), low)) {
    if (units::to_mmhg(site.sensor) < 5) continue;
    INFO(name_of(place.site) << ' ' << name_of(place.side));
    const auto found = inspiration.find(place);
    const double then = found == inspiration.end() ? 0 : found->second.sensor;
    CHECK(site.sensor > then);
    ++n;
  }
  CHECK(n >= 4);
}

TEST_CASE("every site rises with each of three 5 mm steps of all straps, the bridge most (V7)") {
  constexpr double just_sealed_n = 3;  // near enough; the steps were measured from there
  const Case input = oronasal(8);
  const double step_n = 5 * input.cushion.straps.front().stiffness_n_mm;
  const BySite first = pressed_sites(input, solved(input, {just_sealed_n}));
  BySite before = first;
  for (int k = 1; k <= 3; ++k) {
    const BySite after = pressed_sites(input, solved(input, {just_sealed_n + k * step_n}));
    for (const auto& [place, site] : before) {
      if (units::to_mmhg(site.sensor) < 5) continue;
      INFO("step " << k << ", " << name_of(place.site) << ' ' << name_of(place.side));
      CHECK(after.at(place).sensor > site.sensor);
    }
    before = after;
  }
  const auto rise = [&](Site site, Side side) {
    return before.at({site, side}).sensor - first.at({site, side}).sensor;
  };
  CHECK(rise(Site::nasal_bridge, Side::midline) > rise(Site::cheek, Side::left));
}

TEST_CASE("a heavier hose to the left presses the left") {
  Case input = oronasal(8);
  input.posture = Posture::supine;
  const FrameLoad hose{.point_mask = {45, -55, 40}, .mass_kg = 0};
  input.cushion.masses.push_back(hose);
  double before = 0;
  for (const double mass : {0.0, 0.05, 0.1, 0.2}) {
    input.cushion.masses.back().mass_kg = mass;
    const double now = to_the_left(solved(input, {6}));
    if (mass == 0) {
      CHECK(std::abs(now) < balance_n);
    } else {
      CHECK(now > before + 0.01);
    }
    before = now;
  }
}

TEST_CASE("the mirrored case has the mirrored sites") {
  Case input = oronasal(8);
  input.posture = Posture::left_side;
  input.placement = {.shift_mm = {1, 0.5, 0}, .turn_rad = {0, 0.01, 0.02}};
  Case mirrored_input = input;
  mirrored_input.posture = Posture::right_side;
  mirrored_input.placement = {.shift_mm = {-1, 0.5, 0}, .turn_rad = {0, -0.01, -0.02}};
  // Straps in pairs, left and right.
  const BySite plain = pressed_sites(input, solved(input, {7, 6, 6.5, 5}));
  const BySite other = pressed_sites(mirrored_input, solved(mirrored_input, {6, 7, 5, 6.5}));
  REQUIRE(plain.size() == other.size());
  for (const auto& [place, site] : plain) {
    INFO(name_of(place.site) << ' ' << name_of(place.side));
    const SitePressure& image = other.at({place.site, mirrored(place.side)});
    CHECK(image.sensor == Approx(site.sensor).epsilon(1e-6));
    CHECK(image.peak == Approx(site.peak).epsilon(1e-6));
    CHECK(image.shear_peak == Approx(site.shear_peak).epsilon(1e-6));
    // Which side a sample on the midline belongs to is a matter of rounding: compare with a
    // sample's share.
    CHECK(image.contact_area == Approx(site.contact_area).margin(3));
  }
}
