// V4 to V9: signs and slopes that were published. V4 restates a law put in; V6 and V7 are
// calibration, since the demonstration cushions were moulded with them.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <functional>
#include <limits>

#include "case/mask_of_case.hpp"
#include "catch.hpp"
#include "fit/strap_setting.hpp"
#include "fit/strap_window.hpp"
#include "fit/trial.hpp"
#include "leak/seal_law.hpp"
#include "published_cases.hpp"
#include "skin/site_pressure.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

double number(const char* row, const char* key) {
  return published_cases().at(row).at(key).get<double>();
}

std::vector<double> numbers(const char* row, const char* key) {
  return published_cases().at(row).at(key).get<std::vector<double>>();
}

std::string describe(const FaceAndCushion& pair) {
  return pair.face + ", " + pair.cushion.name + " " + pair.cushion.size;
}

// A pair at settings, its just-sealed tension and what its sensors and sites read.
class Fitting {
 public:
  Fitting(const FaceAndCushion& given, const Settings& settings)
      : pair_(given),
        input_(given.at(settings)),
        mask_(make_mask(input_)),
        window_(find_strap_window(input_, *given.prepared, mask_)),
        trial_(input_, *given.prepared, mask_),
        sensors_(taped_sensors(given, mask_, trial_.placement())) {}

  [[nodiscard]] const StrapWindow& window() const { return window_; }
  [[nodiscard]] const Mask& mask() const { return mask_; }
  void set_straps(double tension_n) {
    trial_.set_straps(std::vector<double>(mask_.straps.size(), tension_n));
  }
  void set_straps_each(std::vector<double> tension_n) { trial_.set_straps(std::move(tension_n)); }

  struct Reading {
    Cell cell;
    std::vector<SitePressure> sites;
  };
  [[nodiscard]] Reading read(double gas_pressure) {
    const TrialPhase phase = trial_.solve(gas_pressure);
    if (!phase.seated) return {};
    return {cell_of(pair_, mask_, phase.state, sensors_),
            site_pressures(phase.state.samples, pair_.prepared->site_of)};
  }

 private:
  const FaceAndCushion& pair_;
  Case input_;
  Mask mask_;
  StrapWindow window_;
  Trial trial_;
  TapedSensors sensors_;
};

struct SiteChange {
  std::string where;
  double from_mmhg = 0;
  double to_mmhg = 0;
};

// Sites in contact before, lids aside.
std::vector<SiteChange> changes(const std::vector<SitePressure>& from,
                                const std::vector<SitePressure>& to) {
  std::vector<SiteChange> out;
  for (std::size_t k = 0; k < from.size(); ++k) {
    if (from[k].sensor <= 0 || from[k].site == Site::eyelid) continue;
    out.push_back({std::string(name_of(from[k].site)) + " " + std::string(name_of(from[k].side)),
                   units::to_mmhg(from[k].sensor), units::to_mmhg(to[k].sensor)});
  }
  return out;
}

template <typename Result>
std::vector<Result> for_each_pair(const std::function<Result(const FaceAndCushion&)>& f) {
  const auto& pairs = faces_and_cushions();
  std::vector<Result> out(pairs.size());
  for_each_index(pairs.size(), [&](std::size_t k) { out[k] = f(pairs[k]); });
  return out;
}

}  // namespace

TEST_CASE("V4, by construction: all leaks below 1.1 cmH2O of margin and little above 1.7") {
  CHECK(openness(units::from_cmh2o(1.0), seal_law()) == 1);
  CHECK(openness(units::from_cmh2o(1.8), seal_law()) == 0);
  // Dellweg 2010: 1.01 (0.41) hPa stops the leak; 0.6 to 1.4 hPa reaches into the range between.
  CHECK(openness(units::from_kpa(0.14), seal_law()) < 1);
}

TEST_CASE("V5: at fixed straps every site is pressed harder in expiration") {
  const double in = units::from_cmh2o(number("V5", "inspiratory_cmH2O"));
  const double ex = units::from_cmh2o(number("V5", "expiratory_cmH2O"));
  const auto found = for_each_pair<std::vector<SiteChange>>([&](const FaceAndCushion& pair) {
    Fitting fitting(pair, two_pressures(units::to_cmh2o(in), units::to_cmh2o(ex)));
    fitting.set_straps(number("V5", "times_just_sealed") * fitting.window().sealing_n);
    const auto expiratory = fitting.read(ex).sites;
    const auto inspiratory = fitting.read(in).sites;
    if (expiratory.empty() || inspiratory.empty()) return std::vector<SiteChange>{};
    return changes(inspiratory, expiratory);
  });
  for (std::size_t k = 0; k < found.size(); ++k) {
    CAPTURE(describe(faces_and_cushions()[k]));
    CHECK(found[k].size() >= 3);
    for (const SiteChange& site : found[k]) {
      CAPTURE(site.where, site.from_mmhg, site.to_mmhg);
      CHECK(site.to_mmhg - site.from_mmhg > 0);
    }
  }
}

// In inspiration a gas-backed lip bears most of what more pressure needs. In expiration the straps
// that hold the higher pressure press the bridge more; less so, the softer it is there.
TEST_CASE("V6: with straps re-set to just seal, the bridge changes by less than was measured") {
  const auto settings = numbers("V6", "inspiratory_cmH2O");
  const double ex = number("V6", "expiratory_cmH2O");
  struct Found {
    std::vector<double> bridge;        // mean over the breath
    std::vector<double> margin_cmh2o;  // of the weakest place in inspiration
  };
  const auto found = for_each_pair<Found>([&](const FaceAndCushion& pair) {
    Found out;
    if (pair.cushion.type != CushionType::oronasal) return out;
    for (const double in : settings) {
      const Settings given = two_pressures(in, ex);
      Fitting fitting(pair, given);
      fitting.set_straps(fitting.window().sealing_n);
      const auto expiratory = fitting.read(given.expiratory);
      const auto inspiratory = fitting.read(given.inspiratory);
      const double share = given.inspiratory_fraction;
      out.margin_cmh2o.push_back(inspiratory.cell.margin_cmh2o);
      out.bridge.push_back(
          expiratory.cell.seated && inspiratory.cell.seated && fitting.window().seals
              ? share * inspiratory.cell.bridge_mmhg + (1 - share) * expiratory.cell.bridge_mmhg
              : std::numeric_limits<double>::quiet_NaN());
    }
    return out;
  });
  std::vector<double> mean(settings.size(), 0.0);
  double n = 0;
  std::printf("\nV6 nasal bridge [mmHg], just sealed at inspiratory %g, %g, %g cmH2O\n",
              settings[0], settings[1], settings[2]);
  for (std::size_t k = 0; k < found.size(); ++k) {
    const std::vector<double>& bridge = found[k].bridge;
    if (bridge.empty()) continue;
    const std::string who = describe(faces_and_cushions()[k]);
    std::printf("  %-34s%7.1f%7.1f%7.1f\n", who.c_str(), bridge[0], bridge[1], bridge[2]);
    CAPTURE(who);
    for (std::size_t j = 0; j < mean.size(); ++j) {
      CHECK(std::isfinite(bridge[j]));
      // Gas pressure plus the margin; the search goes by a smooth minimum, a little above.
      CHECK(found[k].margin_cmh2o[j] > units::to_cmh2o(seal_law().sealed_above) - 0.01);
      CHECK(found[k].margin_cmh2o[j] < units::to_cmh2o(seal_law().sealed_above) + 0.5);
      mean[j] += bridge[j];
    }
    ++n;
  }
  REQUIRE(n == 24);
  const auto [least, largest] = std::minmax_element(mean.begin(), mean.end());
  const double change = (*largest - *least) / n;
  const double fraction = (*largest - *least) / *least;
  std::printf("  means %.1f %.1f %.1f: change %.1f mmHg, %.0f %%\n", mean[0] / n, mean[1] / n,
              mean[2] / n, change, 100 * fraction);
  std::printf("  measured: below %.0f %% or %.1f mmHg\n",
              100 * number("V6", "change_below_fraction"), number("V6", "or_below_mmHg"));
  CHECK(
      (fraction < number("V6", "change_below_fraction") || change < number("V6", "or_below_mmHg")));
}

TEST_CASE("V7: each 5 mm of strap presses every site harder, the bridge by more than the cheek") {
  const auto steps = numbers("V7", "steps_mm");
  struct Found {
    std::vector<std::vector<SiteChange>> by_step;
    double bridge_rise_mmhg = 0;
    double cheek_rise_mmhg = 0;
  };
  const auto found = for_each_pair<Found>([&](const FaceAndCushion& pair) {
    const Settings settings = continuous_pressure(number("V7", "cpap_cmH2O"));
    Fitting fitting(pair, settings);
    fitting.set_straps(fitting.window().sealing_n);
    const Fitting::Reading start = fitting.read(settings.expiratory);
    Found out;
    Fitting::Reading before = start;
    for (const double step_mm : steps) {
      std::vector<double> tension;
      for (const Strap& strap : fitting.mask().straps) {
        tension.push_back(fitting.window().sealing_n + strap.stiffness_n_mm * step_mm);
      }
      fitting.set_straps_each(tension);
      const Fitting::Reading here = fitting.read(settings.expiratory);
      if (here.sites.empty() || before.sites.empty()) return Found{};
      out.by_step.push_back(changes(before.sites, here.sites));
      before = here;
    }
    out.bridge_rise_mmhg = before.cell.bridge_mmhg - start.cell.bridge_mmhg;
    out.cheek_rise_mmhg = before.cell.cheek_mmhg - start.cell.cheek_mmhg;
    return out;
  });
  for (std::size_t k = 0; k < found.size(); ++k) {
    const std::string who = describe(faces_and_cushions()[k]);
    std::printf("V7 %-34s bridge +%.1f, cheek +%.1f mmHg\n", who.c_str(), found[k].bridge_rise_mmhg,
                found[k].cheek_rise_mmhg);
    CAPTURE(who);
    REQUIRE(found[k].by_step.size() == steps.size());
    for (std::size_t j = 0; j < steps.size(); ++j) {
      for (const SiteChange& site : found[k].by_step[j]) {
        CAPTURE(steps[j], site.where, site.from_mmhg, site.to_mmhg);
        CHECK(site.to_mmhg > site.from_mmhg);
      }
    }
    CHECK(found[k].bridge_rise_mmhg > found[k].cheek_rise_mmhg);
  }
}

namespace {

// By word and pressure [L/min]; without bound where the mask does not seat.
std::vector<std::vector<double>> nasal_leaks(const FaceAndCushion& pair,
                                             const std::vector<StrapWord>& words,
                                             const std::vector<double>& pressures) {
  std::vector<std::vector<double>> leak;
  for (const StrapWord word : words) {
    leak.emplace_back();
    for (const double cmh2o : pressures) {
      Case input = pair.at(continuous_pressure(cmh2o));
      input.straps.word = word;
      const Mask mask = make_mask(input);
      Trial trial(input, *pair.prepared, mask);
      trial.set_straps(set_straps(input, *pair.prepared, mask).tension_n);
      const TrialPhase phase = trial.solve(input.settings.expiratory);
      leak.back().push_back(phase.seated ? cell_of(pair, mask, phase.state, {}).leak_l_min
                                         : std::numeric_limits<double>::infinity());
    }
  }
  return leak;
}

}  // namespace

TEST_CASE("V8: a nasal mask leaks less with force and more with pressure") {
  const auto pressures = numbers("V8", "cpap_cmH2O");
  const std::vector words{StrapWord::loose, StrapWord::appropriate, StrapWord::tight};
  int n_faces = 0;
  for (const FaceAndCushion& pair : faces_and_cushions()) {
    if (pair.cushion.type != CushionType::nasal) continue;
    ++n_faces;
    const auto leak = nasal_leaks(pair, words, pressures);
    std::printf("\nV8 leak [L/min], %s, at %g, %g, %g cmH2O\n", describe(pair).c_str(),
                pressures[0], pressures[1], pressures[2]);
    for (std::size_t w = 0; w < words.size(); ++w) {
      std::printf("  %-12s%9.2f%9.2f%9.2f\n", std::string(name_of(words[w])).c_str(), leak[w][0],
                  leak[w][1], leak[w][2]);
      // On this face the mask seats at every setting.
      if (pair.face != "reference") continue;
      for (const double each : leak[w]) CHECK(std::isfinite(each));
    }
    int n_pairs = 0;
    const auto check_rises = [&](double less, double more) {
      ++n_pairs;
      CHECK(more >= less);
      const bool either = std::max(less, more) > number("V8", "strict_above_L_min");
      if (either && std::isfinite(less)) CHECK(more > less);
    };
    for (std::size_t w = 0; w < words.size(); ++w) {
      for (std::size_t p = 0; p < pressures.size(); ++p) {
        CAPTURE(describe(pair), name_of(words[w]), pressures[p]);
        if (p + 1 < pressures.size()) check_rises(leak[w][p], leak[w][p + 1]);
        if (w + 1 < words.size()) check_rises(leak[w + 1][p], leak[w][p]);
      }
    }
    CHECK(n_pairs == 12);
  }
  CHECK(n_faces == 8);
}

TEST_CASE("V9, reported only: the nasal bridge supine over seated") {
  const Settings settings = continuous_pressure(10);
  const auto found = for_each_pair<double>([&](const FaceAndCushion& pair) {
    // A nasal rim passes below the taped place.
    if (pair.cushion.type != CushionType::oronasal) return 0.0;
    Case input = pair.at(settings);
    const Mask mask = make_mask(input);
    const double tension = 1.25 * find_strap_window(input, *pair.prepared, mask).sealing_n;
    std::array<double, 2> bridge{};
    for (std::size_t k = 0; k < 2; ++k) {
      input.posture = k == 0 ? Posture::seated : Posture::supine;
      Trial trial(input, *pair.prepared, mask);
      trial.set_straps(std::vector<double>(mask.straps.size(), tension));
      const TrialPhase phase = trial.solve(settings.expiratory);
      if (!phase.seated) return 0.0;
      bridge[k] = cell_of(pair, mask, phase.state, taped_sensors(pair, mask, trial.placement()))
                      .bridge_mmhg;
    }
    return bridge[1] / bridge[0];
  });
  double sum = 0;
  double n = 0;
  for (std::size_t k = 0; k < found.size(); ++k) {
    if (faces_and_cushions()[k].cushion.type != CushionType::oronasal) continue;
    CAPTURE(describe(faces_and_cushions()[k]));
    CHECK(found[k] > 0);  // both postures were solved
    sum += found[k];
    ++n;
  }
  std::printf("V9 (reported, not gated): supine over seated %.2f, oronasal; published 0.89\n",
              sum / n);
}
