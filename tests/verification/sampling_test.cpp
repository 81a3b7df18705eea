// How much the answer owes to sampling and to smoothing.
#include <cmath>
#include <sstream>

#include "catch.hpp"
#include "demo_case.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

double tension_n(const Case& input) {  // of a firm fit: some 1.5 times just sealed
  return input.cushion.type == CushionType::nasal ? 1.5 : 5;
}

struct Change {
  double sensor = 0, mean = 0, peak = 0;  // largest over the sites, relative
};

// Sites that read less than this are left out: a few samples that just touch have no mean to speak
// of, and 2 mmHg on a sensor is below what is ever decided on.
constexpr double least_sensor_mmhg = 5;

Change change_between(const Case& plain, const Case& other) {
  const TrialPhase a = solve_case(plain, {tension_n(plain)});
  const TrialPhase b = solve_case(other, {tension_n(other)});
  REQUIRE(a.seated);
  REQUIRE(b.seated);
  const BySite before = pressed_sites(plain, a.state);
  const BySite after = pressed_sites(other, b.state);
  std::ostringstream report;
  Change worst;
  for (const auto& [place, site] : before) {
    if (units::to_mmhg(site.sensor) < least_sensor_mmhg) continue;
    const auto found = after.find(place);
    REQUIRE(found != after.end());
    const SitePressure& now = found->second;
    const Change change{now.sensor / site.sensor - 1, now.mean / site.mean - 1,
                        now.peak / site.peak - 1};
    report << "\n  " << name_of(place.site) << ' ' << name_of(place.side) << ": sensor "
           << units::to_mmhg(site.sensor) << " mmHg " << 100 * change.sensor << " %, mean "
           << units::to_mmhg(site.mean) << ' ' << 100 * change.mean << " %, peak "
           << units::to_mmhg(site.peak) << ' ' << 100 * change.peak << " %";
    worst.sensor = std::max(worst.sensor, std::abs(change.sensor));
    worst.mean = std::max(worst.mean, std::abs(change.mean));
    worst.peak = std::max(worst.peak, std::abs(change.peak));
  }
  WARN(plain.cushion.name << ' ' << plain.cushion.size << report.str());
  return worst;
}

std::vector<Case> cases() {
  return {case_with(demo_cushion("demo-oronasal", "M"), 6),
          case_with(demo_cushion("demo-nasal", "M"), 8)};
}

}  // namespace

TEST_CASE("finer sampling changes sensor and mean by less than 3 %, the peak by less than 10 %") {
  for (const Case& plain : cases()) {
    for (const RimSampling finer : {RimSampling{480, 13}, RimSampling{360, 9}}) {
      INFO(plain.cushion.name << ": " << finer.n_stations << " by " << finer.n_across);
      Case other = plain;
      other.sampling = finer;
      const Change worst = change_between(plain, other);
      CHECK(worst.sensor < 0.03);
      CHECK(worst.mean < 0.03);
      CHECK(worst.peak < 0.10);
    }
  }
}

TEST_CASE("halving the length over which contact sets in changes no site by more than 2 %") {
  for (const Case& plain : cases()) {
    Case other = plain;
    other.numerics.contact_blend_mm /= 2;
    const Change worst = change_between(plain, other);
    CHECK(worst.sensor < 0.02);
    CHECK(worst.mean < 0.02);
    CHECK(worst.peak < 0.02);
  }
}

TEST_CASE("halving the length over which a sample comes to count as touching changes little") {
  for (const Case& plain : cases()) {
    Case other = plain;
    other.numerics.edge_blend_mm /= 2;
    const Change worst = change_between(plain, other);
    CHECK(worst.sensor < 0.03);
    CHECK(worst.mean < 0.03);
    CHECK(worst.peak < 0.03);
  }
}
