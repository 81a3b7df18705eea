#include "fit/strap_window.hpp"

#include <algorithm>

#include "case/mask_of_case.hpp"
#include "catch.hpp"
#include "fit/breath_reading.hpp"
#include "stored_case.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

struct Fitting {
  Case input;
  FaceInUse face;
  Mask mask;
  StrapWindow window;

  explicit Fitting(Case given)
      : input(std::move(given)),
        face(input.face),
        mask(make_mask(input)),
        window(find_strap_window(input, face, mask)) {}

  [[nodiscard]] double reserve(double tension_n) const {
    Trial trial(input, face, mask);
    return seal_reserve(trial, std::vector<double>(mask.straps.size(), tension_n));
  }
  // Largest sensor reading of each contact site over the phases.
  [[nodiscard]] std::vector<double> readings(double tension_n) const {
    Trial trial(input, face, mask);
    trial.set_straps(std::vector<double>(mask.straps.size(), tension_n));
    std::vector<double> out;
    for (const double pressure : {input.settings.expiratory, input.settings.inspiratory}) {
      const TrialPhase phase = trial.solve(pressure);
      REQUIRE(phase.seated);
      const auto sites = site_pressures(phase.state.samples, face.site_of);
      out.resize(sites.size());
      for (std::size_t k = 0; k < sites.size(); ++k) out[k] = std::max(out[k], sites[k].sensor);
    }
    return out;
  }
};

const Fitting& continuous() {
  static const Fitting fitting(case_of({}));
  return fitting;
}

const Fitting& bilevel() {
  static const Fitting fitting(
      case_of({.settings = R"({"inspiratory_cmH2O": 14, "expiratory_cmH2O": 6})"}));
  return fitting;
}

}  // namespace

TEST_CASE("The sealing tension seals and 3 percent less does not") {
  for (const Fitting* fitting : {&continuous(), &bilevel()}) {
    REQUIRE(fitting->window.seals);
    CHECK(fitting->reserve(fitting->window.sealing_n) >= 0);
    CHECK(fitting->reserve(0.97 * fitting->window.sealing_n) < 0);
  }
}

TEST_CASE("Higher gas pressure needs tighter straps") {
  CHECK(bilevel().window.sealing_n > continuous().window.sealing_n);
}

TEST_CASE("The window ends where a pressed site has risen by a quarter") {
  for (const Fitting* fitting : {&continuous(), &bilevel()}) {
    REQUIRE(fitting->window.upper_n > fitting->window.sealing_n);
    const auto sealed = fitting->readings(fitting->window.sealing_n);
    const auto upper = fitting->readings(fitting->window.upper_n);
    const double pressed = window_share * *std::max_element(sealed.begin(), sealed.end());
    double worst = 0;
    for (std::size_t k = 0; k < sealed.size(); ++k) {
      if (sealed[k] >= pressed) worst = std::max(worst, upper[k] / sealed[k]);
    }
    CHECK(fitting->window.upper_end == WindowEnd::site_rise);
    // The tension is found within 0.2 %.
    CHECK(worst == Approx(1.25).epsilon(0.005));
  }
}

TEST_CASE("The user's limit of pressure ends the window where it is met sooner") {
  const auto sealed = continuous().readings(continuous().window.sealing_n);
  const double limit = 1.1 * units::to_mmhg(*std::max_element(sealed.begin(), sealed.end()));
  const Fitting limited(case_of(
      {.rest = R"("dressing_rule": {"sensor_above_mmHg": )" + std::to_string(limit) + "}"}));
  CHECK(limited.window.sealing_n == continuous().window.sealing_n);
  CHECK(limited.window.upper_n < continuous().window.upper_n);
  CHECK(limited.window.upper_end == WindowEnd::user_limit);
  const auto upper = limited.readings(limited.window.upper_n);
  CHECK(units::to_mmhg(*std::max_element(upper.begin(), upper.end())) ==
        Approx(limit).epsilon(0.005));
}

TEST_CASE("With a limit of the user's the rise ends nothing") {
  const auto sealed = continuous().readings(continuous().window.sealing_n);
  const double limit = 2 * units::to_mmhg(*std::max_element(sealed.begin(), sealed.end()));
  const Fitting limited(case_of(
      {.rest = R"("dressing_rule": {"sensor_above_mmHg": )" + std::to_string(limit) + "}"}));
  CHECK(continuous().window.upper_end == WindowEnd::site_rise);
  CHECK(limited.window.upper_end == WindowEnd::user_limit);
  CHECK(limited.window.upper_n > 1.2 * continuous().window.upper_n);
  const auto upper = limited.readings(limited.window.upper_n);
  CHECK(units::to_mmhg(*std::max_element(upper.begin(), upper.end())) ==
        Approx(limit).epsilon(0.005));
}

TEST_CASE("The user's limit counts beneath the straps too, the rise does not") {
  Case input = continuous().input;
  Mask mask = continuous().mask;
  for (Strap& strap : mask.straps) strap.width_mm = 1;  // cords
  const FaceInUse& face = continuous().face;
  const StrapWindow free = find_strap_window(input, face, mask);
  CHECK_FALSE(is_strap_site(free.upper_site.site));
  CHECK(free.upper_n == continuous().window.upper_n);
  Trial trial(input, face, mask);
  trial.set_straps(std::vector<double>(mask.straps.size(), free.sealing_n));
  const BreathReading sealed = read_breath(trial);
  double hardest = 0;  // beneath a strap
  for (const SitePressure& each : sealed.sites) {
    if (is_strap_site(each.site)) hardest = std::max(hardest, each.sensor);
  }
  REQUIRE(hardest > 2 * worst_contact(sealed).sensor);
  input.dressing_rule.sensor_above_mmhg = 1.1 * units::to_mmhg(hardest);
  const StrapWindow limited = find_strap_window(input, face, mask);
  CHECK(limited.upper_end == WindowEnd::user_limit);
  CHECK(is_strap_site(limited.upper_site.site));
  // Pressure beneath a strap goes with its tension, which the gas raises a little.
  CHECK(limited.upper_n / limited.sealing_n == Approx(1.1).epsilon(0.05));
}

TEST_CASE("When sealing alone passes the user's limit the window is that one tension") {
  const Fitting strict(case_of({.rest = R"("dressing_rule": {"sensor_above_mmHg": 1})"}));
  CHECK(strict.window.seals);
  CHECK(strict.window.upper_n == strict.window.sealing_n);
  CHECK(strict.window.upper_end == WindowEnd::user_limit);
}

TEST_CASE("A mask that no tension seals has no window, and the nearest tension is named") {
  // A small cushion set far down, to the left and turned leaves the nose of a large face half out.
  const Fitting fitting(case_of(
      {.face = "large",
       .size = "S",
       .settings = R"({"cpap_cmH2O": 40})",
       .rest = R"("placement": {"shift_up_mm": -20, "shift_left_mm": 20, "turn_left_deg": 20,
                   "raise_left_deg": 20})"}));
  CHECK_FALSE(fitting.window.seals);
  CHECK(fitting.window.sealing_n == 0);
  CHECK(fitting.window.best_effort_n > 0);
  CHECK(fitting.reserve(fitting.window.best_effort_n) < 0);
}

TEST_CASE("the just-sealed tension is the same sought from far below and from near it") {
  const Fitting& fitting = bilevel();
  const std::vector<double> alike(fitting.mask.straps.size(), 1.0);
  for (const double factor : {0.5, 0.9, 1.0, 1.2, 2.0}) {
    Trial trial(fitting.input, fitting.face, fitting.mask);
    const StrapWindow near = find_just_sealed(trial, alike, factor * fitting.window.sealing_n);
    CAPTURE(factor);
    REQUIRE(near.seals);
    // Both searches end within 0.2 % above the edge.
    CHECK(near.sealing_n == Approx(fitting.window.sealing_n).epsilon(0.003));
  }
}
