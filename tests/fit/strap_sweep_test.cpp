#include "fit/strap_sweep.hpp"

#include "case/mask_of_case.hpp"
#include "catch.hpp"
#include "leak/seal_law.hpp"
#include "stored_case.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

struct Swept {
  Case input;
  FaceInUse face;
  Mask mask;
  StrapSweep sweep;

  explicit Swept(Case given)
      : input(std::move(given)),
        face(input.face),
        mask(make_mask(input)),
        sweep(sweep_straps(input, face, mask, 12)) {}
};

const Swept& bilevel() {
  static const Swept swept(
      case_of({.settings = R"({"inspiratory_cmH2O": 14, "expiratory_cmH2O": 6})"}));
  return swept;
}

double worst_contact_mmhg(const StrapPoint& point) {
  double worst = 0;
  for (const SitePressure& site : point.sites) {
    const bool strap = is_strap_site(site.site);
    if (!strap && site.site != Site::eyelid) worst = std::max(worst, units::to_mmhg(site.sensor));
  }
  return worst;
}

}  // namespace

TEST_CASE("The sweep crosses from leak to seal at the window's lower edge") {
  const StrapSweep& sweep = bilevel().sweep;
  REQUIRE(sweep.window.seals);
  REQUIRE(sweep.equal.size() == 12);
  CHECK(sweep.equal.front().upper_n < sweep.window.sealing_n);
  CHECK(sweep.equal.back().upper_n > sweep.window.upper_n);
  int sealed = 0;
  int open = 0;
  for (const StrapPoint& point : sweep.equal) {
    CAPTURE(point.upper_n, sweep.window.sealing_n);
    CHECK(point.upper_n == point.lower_n);
    if (point.upper_n >= sweep.window.sealing_n) {
      REQUIRE(point.seated);
      CHECK(point.least_margin >= seal_law().sealed_above);
      CHECK(point.mean_leak == 0);
      ++sealed;
    } else if (point.seated) {
      CHECK(point.least_margin < seal_law().sealed_above);
      CHECK(point.mean_leak > 0);
      ++open;
    }
  }
  CHECK(sealed >= 3);
  CHECK(open >= 2);
  CHECK_FALSE(sweep.leaks_again_n);
}

TEST_CASE("A swept point is that of a trial of its own") {
  const Swept& swept = bilevel();
  const StrapPoint& point = swept.sweep.equal.back();
  Trial trial(swept.input, swept.face, swept.mask);
  const StrapPoint alone = strap_point(trial, {point.upper_n, point.lower_n});
  REQUIRE(alone.sites.size() == point.sites.size());
  for (std::size_t k = 0; k < alone.sites.size(); ++k) {
    CHECK(alone.sites[k].sensor == Approx(point.sites[k].sensor).epsilon(1e-6).margin(1e-9));
  }
}

TEST_CASE("The mean leak of a breath weighs its phases by their time") {
  for (const StrapPoint& point : bilevel().sweep.equal) {
    if (!point.seated) continue;
    REQUIRE(point.leak.size() == 2);
    CHECK(point.mean_leak == Approx(0.67 * point.leak[0] + 0.33 * point.leak[1]));
    CHECK(point.leak[1] >= point.leak[0]);  // more gas pressure, more leak
  }
}

TEST_CASE("Travel from slack is tension over the bands' stiffness") {
  Mask mask = bilevel().mask;
  for (Strap& strap : mask.straps) strap.stiffness_n_mm = 0.25;
  CHECK(strap_travel_mm(mask, 5) == Approx(20));
  mask.straps.front().stiffness_n_mm = 0.125;
  CHECK(strap_travel_mm(mask, 5) == Approx(25));  // 40 and three of 20
}

TEST_CASE("Upper against lower straps keep their mean, and the optimum seals and presses less") {
  const Swept& swept = bilevel();
  REQUIRE(swept.sweep.split.size() == 9);
  for (const StrapPoint& point : swept.sweep.split) {
    CHECK(point.mean_n(swept.mask) == Approx(swept.sweep.window.sealing_n));
  }
  CHECK(swept.sweep.split.front().upper_n < swept.sweep.split.back().upper_n);
  REQUIRE(swept.sweep.optimum);
  const StrapOptimum& best = *swept.sweep.optimum;
  CHECK(best.worst <= best.equal_worst);
  Trial trial(swept.input, swept.face, swept.mask);
  const StrapPoint point = strap_point(trial, {best.upper_n, best.lower_n});
  REQUIRE(point.seated);
  CHECK(point.least_margin >= seal_law().sealed_above);
  CHECK(worst_contact_mmhg(point) == Approx(units::to_mmhg(best.worst)).epsilon(1e-5));
}
