#include "fit/swelling.hpp"

#include "catch.hpp"
#include "fit/fit.hpp"
#include "stored_case.hpp"

using namespace rimload;

namespace {

const Estimate& sealed() {
  static const Estimate estimate = with_swelling(estimate_fit(demo_case("first-fit")));
  return estimate;
}

double rise_at(const SwellingStep& step, Site site) {
  for (const SwollenSite& each : step.sites) {
    if (each.site.site == site) return each.after - each.before;
  }
  return 0;
}

}  // namespace

TEST_CASE("a face that swells under straps of fixed length is pressed harder, step by step") {
  const std::vector<SwellingStep>& steps = sealed().swelling;
  REQUIRE(steps.size() == swelling_raises_mm.size());
  double before = 0;
  for (const SwellingStep& step : steps) {
    REQUIRE(step.seated);
    // The bridge carries most; what straps press rises by stiffness times what is taken up.
    CHECK(rise_at(step, Site::nasal_bridge) > before);
    CHECK(rise_at(step, Site::occiput) > 0);
    before = rise_at(step, Site::nasal_bridge);
  }
}

TEST_CASE("the strap let out undoes the rise, and more swelling takes more") {
  const std::vector<SwellingStep>& steps = sealed().swelling;
  double before = 0;
  for (const SwellingStep& step : steps) {
    REQUIRE(step.let_out_mm);
    CAPTURE(step.raise_mm);
    CHECK(*step.let_out_mm > before);
    // Straps run back over the cheeks: an even swelling takes them out by less than it measures
    // along the skin's normal, but soft tissue gives way; several times the swelling would be
    // wrong.
    CHECK(*step.let_out_mm < 4 * step.raise_mm);
    before = *step.let_out_mm;
  }
}

TEST_CASE("what does not seat has no outlook on swelling") {
  const Case loose = case_of({.size = "S",
                              .settings = R"({"cpap_cmH2O": 40})",
                              .rest = R"("straps": {"tension_N": {"upper_left": 0.1,
                  "upper_right": 0.1, "lower_left": 0.1, "lower_right": 0.1}})"});
  const Estimate estimate = estimate_fit(loose);
  REQUIRE_FALSE(estimate.phases.front().seated);
  CHECK(with_swelling(estimate).swelling.empty());
}
