#include "fit/fit.hpp"

#include "catch.hpp"
#include "stored_case.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

// Below the window: leaks at least in inspiration.
const Estimate& leaking_bilevel() {
  static const Estimate estimate = estimate_fit(
      case_of({.settings = R"({"inspiratory_cmH2O": 14, "expiratory_cmH2O": 8,
                               "inspiratory_fraction": 0.4})",
               .rest = R"("posture": "supine", "straps": {"setting": "below_window"})"}));
  return estimate;
}

}  // namespace

TEST_CASE("Bilevel has an expiratory and an inspiratory phase, in this order") {
  const Estimate& estimate = leaking_bilevel();
  REQUIRE(estimate.phases.size() == 2);
  CHECK(estimate.phases[0].phase == Phase::expiratory);
  CHECK(estimate.phases[1].phase == Phase::inspiratory);
  CHECK(units::to_cmh2o(estimate.phases[0].state.gas_pressure) == Approx(8));
  CHECK(units::to_cmh2o(estimate.phases[1].state.gas_pressure) == Approx(14));
}

TEST_CASE("Continuous pressure has one phase") {
  const Estimate estimate = estimate_fit(case_of({.rest = R"("straps": {"tension_N": 4})"}));
  REQUIRE(estimate.phases.size() == 1);
  CHECK(estimate.phases[0].phase == Phase::continuous);
  CHECK(estimate.breath_mean_leak == estimate.phases[0].leak.total);
}

TEST_CASE("The leak of a breath is the mean over its time") {
  const Estimate& estimate = leaking_bilevel();
  REQUIRE(estimate.phases[0].seated);
  REQUIRE(estimate.phases[1].seated);
  CHECK(estimate.phases[1].leak.total > 0);
  CHECK(estimate.breath_mean_leak ==
        Approx(0.6 * estimate.phases[0].leak.total + 0.4 * estimate.phases[1].leak.total));
}

TEST_CASE("The mask and its share of the hose weigh what the catalogue says, by posture") {
  const Estimate& estimate = leaking_bilevel();
  double mass = 0;
  for (const FrameLoad& load : estimate.input.cushion.masses) mass += load.mass_kg;
  const Vec3 expected = Vec3(0, 0, -9.80665 * mass);
  for (const PhaseEstimate& phase : estimate.phases) {
    CHECK((phase.state.weight.force_n - expected).norm() < 1e-12);
  }
}

TEST_CASE(
    "A lid is touched where a sample close to one of its landmarks is pressed, and only there") {
  const std::string cpap = R"({"cpap_cmH2O": 10})";
  const std::string bilevel = R"({"inspiratory_cmH2O": 14, "expiratory_cmH2O": 6})";
  std::vector<CaseWords> cases;
  for (const char* face : {"reference", "adult-male", "large"}) {
    for (const std::string& settings : {cpap, bilevel}) {
      cases.push_back({.face = face, .cushion = "demo-total-face", .settings = settings});
      cases.back().rest = R"("posture": "supine")";
    }
  }
  const std::size_t n_total_face = cases.size();  // which goes round the eyes
  cases.push_back({.face = "small", .size = "L", .settings = bilevel});
  cases.back().rest = R"("posture": "supine", "placement": {"shift_up_mm": 10})";
  for (std::size_t k = 0; k < cases.size(); ++k) {
    const Estimate estimate = estimate_fit(case_of(cases[k]));
    const PhaseEstimate& phase = estimate.phases.front();
    REQUIRE(phase.seated);
    for (const SitePressure& site : phase.sites) {
      if (site.site != Site::eyelid) continue;
      bool pressed = false;
      for (const ContactSample& sample : phase.on_skin) {
        if (sample.pressure <= 0) continue;
        for (const Landmark& each : estimate.input.face.landmarks) {
          const bool near = (each.position_face - sample.foot).norm() < 9;  // mm
          const bool this_side = (sample.foot.x() >= 0) == (site.side == Side::left);
          const bool is_lid = estimate.face.site_of(sample.foot).site == Site::eyelid;
          pressed = pressed ||
                    (near && this_side && is_lid && site_of_landmark(each.name) == Site::eyelid);
        }
      }
      CAPTURE(cases[k].face, cases[k].settings, name_of(site.side), site.contact_area);
      CHECK((site.contact_area > 0) == pressed);
      CHECK(pressed == (k >= n_total_face));
    }
    for (const SiteTolerance& row : estimate.skin) {
      if (k < n_total_face) CHECK(row.place.site != Site::eyelid);
    }
  }
}

TEST_CASE("The same case gives the same bits") {
  const Estimate once = estimate_fit(case_of({}));
  const Estimate again = estimate_fit(case_of({}));
  REQUIRE(once.phases.size() == again.phases.size());
  const auto& a = once.phases.front().state.samples;
  const auto& b = again.phases.front().state.samples;
  bool same = once.strap_tension_n == again.strap_tension_n;
  for (std::size_t k = 0; k < a.size(); ++k) {
    same = same && a[k].pressure == b[k].pressure && a[k].shear == b[k].shear;
  }
  CHECK(same);
}
