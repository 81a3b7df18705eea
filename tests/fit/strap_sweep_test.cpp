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
        sweep(sweep_straps(input, face, mask, {.n_points = 12})) {}
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

TEST_CASE("Upper against lower straps keep their mean") {
  const Swept& swept = bilevel();
  REQUIRE(swept.sweep.split.size() == 9);
  for (const StrapPoint& point : swept.sweep.split) {
    CHECK(point.mean_n(swept.mask) == Approx(swept.sweep.window.sealing_n));
  }
  CHECK(swept.sweep.split.front().upper_n < swept.sweep.split.back().upper_n);
}

TEST_CASE("The edge is what equal straps do at the just-sealed tension, sealed") {
  const Swept& swept = bilevel();
  CHECK(swept.sweep.edge.upper_n == swept.sweep.window.sealing_n);
  CHECK(swept.sweep.edge.seals(swept.input));
  CHECK(swept.sweep.edge.mean_leak == 0);
  REQUIRE(swept.sweep.optimum);
  CHECK(swept.sweep.optimum->equal_worst == worst_contact(swept.sweep.edge).sensor);
}

namespace {
// The optimum of a sweep, solved anew.
BreathReading at_optimum(const Swept& swept) {
  Trial trial(swept.input, swept.face, swept.mask);
  trial.set_straps(swept.sweep.optimum->tension_n);
  return read_breath(trial);
}
}  // namespace

TEST_CASE("The optimum seals, presses less, and is symmetric where the mask sits so") {
  const Swept swept(case_of({.cushion = "demo-nasal"}));
  REQUIRE_FALSE(is_lopsided(swept.sweep.edge));
  REQUIRE(swept.sweep.optimum);
  const StrapOptimum& best = *swept.sweep.optimum;
  CHECK(best.worst.sensor < 0.97 * best.equal_worst);
  const BreathReading reading = at_optimum(swept);
  CHECK(reading.seals(swept.input));
  CHECK(worst_contact_mmhg({reading, 0, 0}) ==
        Approx(units::to_mmhg(best.worst.sensor)).epsilon(1e-4));
  for (std::size_t k = 0; k + 1 < best.tension_n.size(); k += 2) {
    CHECK(is_left(swept.mask.straps[k]) != is_left(swept.mask.straps[k + 1]));
    CHECK(best.tension_n[k] == best.tension_n[k + 1]);
  }
}

TEST_CASE("A mask set aside gets straps that differ left and right, and mirrored the mirrored") {
  const auto set_aside = [](const char* placement) {
    return Swept(case_of({.rest = std::string(R"("placement": )") + placement}));
  };
  const Swept left = set_aside(R"({"shift_left_mm": 5, "raise_left_deg": 3})");
  REQUIRE(is_lopsided(left.sweep.edge));
  REQUIRE(left.sweep.optimum);
  const StrapOptimum& best = *left.sweep.optimum;
  CHECK(at_optimum(left).seals(left.input));
  // Symmetric straps are the same search without left against right.
  CHECK(best.worst.sensor < 0.95 * best.equal_worst);
  bool differ = false;
  for (std::size_t k = 0; k + 1 < best.tension_n.size(); k += 2) {
    differ = differ || std::abs(best.tension_n[k] / best.tension_n[k + 1] - 1) > 0.1;
  }
  CHECK(differ);
  const Swept right = set_aside(R"({"shift_left_mm": -5, "raise_left_deg": -3})");
  REQUIRE(right.sweep.optimum);
  CHECK(right.sweep.optimum->worst.sensor == Approx(best.worst.sensor).epsilon(0.05));
}
