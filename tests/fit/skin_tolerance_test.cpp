#include "fit/skin_tolerance.hpp"

#include <algorithm>

#include "catch.hpp"
#include "fit/fit.hpp"
#include "stored_case.hpp"

using namespace rimload;

namespace {

const SiteTolerance* row_of(const Estimate& estimate, const SidedSite& place) {
  const auto found = std::find_if(estimate.skin.begin(), estimate.skin.end(),
                                  [&](const SiteTolerance& row) { return row.place == place; });
  return found == estimate.skin.end() ? nullptr : &*found;
}

double low_of(const SiteTolerance& row, ToleranceCurve curve) {
  for (const CurveReading& reading : row.curves) {
    if (reading.curve == curve && reading.hours) return reading.hours->low_h;
  }
  FAIL("the curve gives no hours");
  return 0;
}

const SidedSite bridge{Site::nasal_bridge, Side::midline};

}  // namespace

TEST_CASE("every site that is pressed in some phase has its hours, and no other") {
  const Estimate estimate = estimate_fit(case_of({}));
  REQUIRE(!estimate.skin.empty());
  for (const PhaseEstimate& phase : estimate.phases) {
    for (const SitePressure& site : phase.sites) {
      const SiteTolerance* row = row_of(estimate, {site.site, site.side});
      if (site.sensor > 0) CHECK(row != nullptr);
    }
  }
  for (const SiteTolerance& row : estimate.skin) {
    double most = 0;
    for (const PhaseEstimate& phase : estimate.phases) {
      for (const SitePressure& site : phase.sites) {
        if (SidedSite{site.site, site.side} == row.place) most = std::max(most, site.sensor);
      }
    }
    // The typical load is the sensor reading of the phase that presses hardest.
    CHECK(row.load.pressure.typical == Approx(most));
    CHECK(most > 0);
  }
}

TEST_CASE("hours worn and poor perfusion shorten the hours left") {
  const Estimate fresh = estimate_fit(case_of({}));
  const Estimate worn = estimate_fit(case_of({.rest = R"("skin": {"hours_worn": 1})"}));
  const Estimate weak =
      estimate_fit(case_of({.rest = R"("skin": {"modifiers": ["poor_perfusion"]})"}));
  const auto low = [](const Estimate& estimate) {
    const SiteTolerance* row = row_of(estimate, bridge);
    REQUIRE(row != nullptr);
    return low_of(*row, ToleranceCurve::pressure_time);
  };
  CHECK(low(worn) == Approx(std::max(0.0, low(fresh) - 1)));
  CHECK(low(weak) < low(fresh));
}

TEST_CASE("injured skin has no hours: it is off-loaded, whatever presses it") {
  const Estimate estimate =
      estimate_fit(case_of({.rest = R"("injured_skin": [{"site": "nasal_bridge"}])"}));
  const SiteTolerance* row = row_of(estimate, bridge);
  REQUIRE(row != nullptr);
  CHECK(row->curves.empty());
  CHECK(row->concern.level == Concern::injury);
  CHECK(row->plan.act == CheckAct::off_load_and_call);
}

TEST_CASE("local policy sets the check when it is the soonest") {
  const Estimate estimate = estimate_fit(case_of({.rest = R"("skin": {"check_every_h": 0.5})"}));
  for (const SiteTolerance& row : estimate.skin) {
    if (row.plan.next_h) CHECK(*row.plan.next_h <= 0.5);
  }
  CHECK(row_of(estimate, bridge) != nullptr);
}

TEST_CASE("a mask that does not seat has no hours") {
  const Estimate estimate = estimate_fit(
      case_of({.settings = R"({"cpap_cmH2O": 40})", .rest = R"("straps": {"tension_N": 0.5})"}));
  REQUIRE(!estimate.phases.front().seated);
  CHECK(estimate.skin.empty());
}
