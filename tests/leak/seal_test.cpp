#include "leak/seal.hpp"

#include <numbers>

#include "catch.hpp"
#include "leak/ring.hpp"
#include "leak/seal_law.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

constexpr double gas_pressure = units::from_cmh2o(10);
constexpr double sealed = units::from_cmh2o(10 + 1.75);

SealSummary seal_of(Ring& ring, double pressure = gas_pressure) {
  if (ring.landmarks.size() == 2) ring.add_landmark("cheek_mid", Side::left, {35, -45, 0});
  ring.state.gas_pressure = pressure;
  return rim_seal(ring.state, ring.mask, SiteFinder(ring.landmarks), humid_gas(0.21));
}

double total_flow(const SealSummary& seal) {
  double flow = 0;
  for (const StationSeal& station : seal.stations) flow += station.flow;
  return flow;
}

}  // namespace

TEST_CASE("A station is open below 1.1 and sealed above 1.7 cmH2O of margin") {
  const SealLaw& law = seal_law();
  CHECK(openness(units::from_cmh2o(1.1), law) == Approx(1).margin(1e-12));
  CHECK(openness(units::from_cmh2o(-20), law) == 1);
  CHECK(openness(units::from_cmh2o(1.7), law) == Approx(0).margin(1e-12));
  CHECK(openness(units::from_cmh2o(30), law) == 0);
  double before = 1;
  for (const double margin : {1.15, 1.25, 1.4, 1.55, 1.65}) {
    const double here = openness(units::from_cmh2o(margin), law);
    CHECK(here < before);
    CHECK(here > 0);
    before = here;
  }
}

TEST_CASE("A rim pressed enough all round leaks nothing") {
  Ring ring;
  ring.press([](double) { return Ring::Contact{sealed, -1}; });
  const SealSummary seal = seal_of(ring);
  CHECK(seal.sealed_fraction == Approx(1).epsilon(1e-12));
  CHECK(total_flow(seal) == 0);
  CHECK(units::to_cmh2o(seal.weakest_margin) == Approx(1.75));
}

TEST_CASE("A rim that touches nowhere leaks through its gaps and the lift of its lip") {
  Ring ring;
  ring.mask.lip.gas_share = 0.4;
  ring.mask.lip.stiffness_n_mm3 = 2e-3;
  ring.press([](double) { return Ring::Contact{0, 1.5}; });
  const SealSummary seal = seal_of(ring);
  CHECK(seal.sealed_fraction == 0);
  // Lift: what gas and margin ask for, less the gas that holds the lip down, over its stiffness.
  const double lift = units::from_cmh2o(10 + 1.7 - 0.4 * 10) / 2e-3;
  const std::vector<SlotPart> parts(ring_across, {1.5 + lift, 8.0 / ring_across});
  const double perimeter = 2 * std::numbers::pi * ring_radius_mm;
  const double expected =
      perimeter * slot_flow(parts, gas_pressure, humid_gas(0.21), seal_law().slot_loss);
  // The rim is a spline through 24 points of the circle.
  CHECK(total_flow(seal) == Approx(expected).epsilon(1e-3));
  CHECK(seal.stations.front().gap_mm == Approx(1.5 + lift));
}

TEST_CASE("A touching lip lifts by what its contact lacks over its stiffness") {
  Ring ring;
  ring.mask.lip.gas_share = 1;
  ring.mask.lip.stiffness_n_mm3 = 1e-3;
  ring.press([](double) { return Ring::Contact{units::from_cmh2o(10.5), -0.8}; });
  const SealSummary seal = seal_of(ring);
  CHECK(seal.stations.front().openness == 1);
  CHECK(seal.stations.front().gap_mm == Approx(units::from_cmh2o(1.2) / 1e-3));
  CHECK(seal.stations.front().least_gap_mm == 0);
  CHECK(seal.stations.front().flow > 0);
}

TEST_CASE("The sealed share of the rim goes by arc length") {
  Ring ring;
  ring.press([](double degrees) { return Ring::Contact{degrees < 90 ? 0 : sealed, 0}; });
  CHECK(seal_of(ring).sealed_fraction == Approx(0.75).epsilon(1e-12));
}

TEST_CASE("The weakest station has the least margin, and of those that float the widest gap") {
  Ring ring;
  ring.press([](double degrees) {
    if (degrees == 90) return Ring::Contact{units::from_cmh2o(9), -0.5};
    return Ring::Contact{sealed, -1};
  });
  SealSummary seal = seal_of(ring);
  CHECK(seal.weakest_station == ring_stations / 4);
  CHECK(units::to_cmh2o(seal.weakest_margin) == Approx(-1));
  CHECK(seal.weakest_site == SidedSite{Site::cheek, Side::left});
  ring.press([](double degrees) {
    if (degrees == 90) return Ring::Contact{0, 0.4};
    if (degrees == 180) return Ring::Contact{0, 0.7};
    return Ring::Contact{sealed, -1};
  });
  seal = seal_of(ring);
  CHECK(seal.weakest_station == ring_stations / 2);
  CHECK(units::to_cmh2o(seal.weakest_margin) == Approx(-10));
}

TEST_CASE("Leak never falls with gas pressure or gap and never rises with contact pressure") {
  Ring ring;
  const auto leak = [&](double gas_cmh2o, double contact_cmh2o, double gap_mm) {
    ring.press([&](double) {
      return Ring::Contact{gap_mm > 0 ? 0 : units::from_cmh2o(contact_cmh2o), gap_mm};
    });
    return total_flow(seal_of(ring, units::from_cmh2o(gas_cmh2o)));
  };
  double before = 0;
  for (const double gas : {8.0, 8.4, 8.8, 9.2, 10.0, 14.0, 20.0}) {
    const double here = leak(gas, 10, 0);
    CHECK(here >= before);
    before = here;
  }
  CHECK(before > 0);
  for (const double contact : {10.0, 11.2, 11.4, 11.6, 11.7, 12.0}) {
    const double here = leak(10, contact, 0);
    CHECK(here <= before);
    before = here;
  }
  CHECK(before == 0);
  for (const double gap : {0.01, 0.1, 0.5, 2.0}) {
    const double here = leak(10, 0, gap);
    CHECK(here > before);
    before = here;
  }
}
