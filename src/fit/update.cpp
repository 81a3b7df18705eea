#include "fit/update.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <numbers>

#include "fit_data.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

const nlohmann::json& seen_file() {
  static const auto table = nlohmann::json::parse(data::seen_json());
  return table;
}

constexpr double impossible = std::numeric_limits<double>::infinity();

// How far off a draw's leak is, in spreads.
double leak_distance(const BreathReading& reading, const Observation& seen) {
  if (!reading.seated) return impossible;
  return (*seen.leak - reading.mean_leak) / leak_spread(reading.mean_leak, seen);
}

// The same for a tension outside of what a finger check stands for.
double finger_distance(double pull_n, FingerCheck check) {
  const TensionBound bound = bound_of(check);
  const double spread = usual_seen_rule().finger_spread;
  if (pull_n > bound.high_n) return std::log(pull_n / bound.high_n) / spread;
  if (pull_n >= bound.low_n) return 0;
  return pull_n > 0 ? std::log(bound.low_n / pull_n) / spread : impossible;
}

double likelihood(double distance) { return std::exp(-0.5 * distance * distance); }

// Of a draw: minus twice the logarithm of its likelihood, and what is farthest off.
struct Misfit {
  double deviance = 0;
  double farthest = 0;
  void add(double distance) {
    deviance += distance * distance;
    farthest = std::max(farthest, std::abs(distance));
  }
};

Misfit misfit_of(const DrawForeseen& draw, const std::vector<Observation>& seen) {
  Misfit out;
  for (std::size_t k = 0; k < seen.size(); ++k) {
    if (seen[k].leak) {
      out.add(leak_distance(draw.at[k], seen[k]));
      // A draw that leaks more foresees each leak less surely.
      const double spread = leak_spread(draw.at[k].mean_leak, seen[k]);
      out.deviance += 2 * std::log(spread / usual_seen_rule().leak_floor);
    }
    if (seen[k].finger) out.add(finger_distance(draw.pull_n[k], *seen[k].finger));
  }
  return out;
}

void weigh(const Case& input, std::span<const DrawForeseen> draws, SeenUpdate& out) {
  std::vector<Misfit> misfits;
  double least = impossible;
  double nearest = impossible;
  for (const DrawForeseen& draw : draws) {
    misfits.push_back(misfit_of(draw, input.seen));
    least = std::min(least, misfits.back().deviance);
    nearest = std::min(nearest, misfits.back().farthest);
  }
  out.all_far = nearest > usual_seen_rule().far_spreads;
  double sum = 0;
  double squares = 0;
  for (const Misfit& misfit : misfits) {
    const double w =
        misfit.deviance < impossible ? std::exp(-0.5 * (misfit.deviance - least)) : 0.0;
    out.weights.push_back(w);
    sum += w;
    squares += w * w;
  }
  if (squares > 0) out.effective = sum * sum / squares;
}

// Bands of a value before and after; `value` gives nothing for a draw without one.
template <typename Value>
BeforeAfter before_after(std::span<const DrawForeseen> draws, const std::vector<double>& weights,
                         Value&& value) {
  std::vector<double> values;
  std::vector<double> kept;
  double sum = 0;
  for (std::size_t d = 0; d < draws.size(); ++d) {
    const std::optional<double> here = value(draws[d]);
    if (!here) continue;
    values.push_back(*here);
    kept.push_back(weights[d]);
    sum += weights[d];
  }
  BeforeAfter out;
  if (values.empty()) return out;
  out.before = band_of(values);
  if (sum > 0) out.after = band_of(values, kept);
  return out;
}

std::optional<double> leak_in(const BreathReading& reading) {
  return reading.seated ? std::optional(reading.mean_leak) : std::nullopt;
}

LeakCheck check_leak(const Case& input, std::span<const DrawForeseen> draws,
                     const std::vector<double>& weights, std::size_t k) {
  const Observation& seen = input.seen[k];
  const double tail = usual_seen_rule().tail;
  LeakCheck out{.observation = k, .seen = *seen.leak};
  out.foreseen =
      before_after(draws, weights, [&](const DrawForeseen& draw) { return leak_in(draw.at[k]); });
  double below = 0;
  int n_seated = 0;
  for (const DrawForeseen& draw : draws) {
    if (!draw.at[k].seated) continue;
    ++n_seated;
    below += 0.5 * std::erfc(-leak_distance(draw.at[k], seen) / std::numbers::sqrt2);
  }
  out.below_share = n_seated > 0 ? below / n_seated : 0.5;
  out.contradicts = n_seated == 0 || out.below_share < tail || out.below_share > 1 - tail;
  return out;
}

FingerSeen check_finger(const Case& input, std::span<const DrawForeseen> draws,
                        const std::vector<double>& weights, std::size_t k) {
  FingerSeen out{.observation = k, .check = *input.seen[k].finger};
  out.pull = before_after(draws, weights,
                          [&](const DrawForeseen& draw) { return std::optional(draw.pull_n[k]); });
  for (const DrawForeseen& draw : draws) {
    out.agreement += likelihood(finger_distance(draw.pull_n[k], out.check));
  }
  out.agreement /= static_cast<double>(draws.size());
  out.contradicts = out.agreement < usual_seen_rule().tail;
  return out;
}

std::optional<double> sensor_at(const BreathReading& reading, const SidedSite& place) {
  if (!reading.seated || place.site == Site::eyelid) return std::nullopt;
  for (const SitePressure& each : reading.sites) {
    if (SidedSite{each.site, each.side} == place) return each.sensor;
  }
  return std::nullopt;
}

SkinCheck check_skin(std::span<const DrawForeseen> draws, const std::vector<double>& weights,
                     std::size_t k, const SkinSeen& seen) {
  SkinCheck out{.observation = k, .seen = seen};
  out.sensor = before_after(
      draws, weights, [&](const DrawForeseen& draw) { return sensor_at(draw.at[k], seen.site); });
  const std::optional<ValueBand>& band = out.sensor.after ? out.sensor.after : out.sensor.before;
  if (is_injury(seen.state)) {
    out.verdict = SkinVerdict::injury;
  } else if (seen.state == SkinState::red_blanches) {
    if (!band) {
      out.verdict = SkinVerdict::no_reading;
    } else {
      const bool little = band->high < usual_seen_rule().little;
      out.verdict = little ? SkinVerdict::not_foreseen : SkinVerdict::foreseen;
    }
  }
  return out;
}

}  // namespace

std::string_view name_of(SkinVerdict verdict) {
  switch (verdict) {
    case SkinVerdict::injury: return "injury";
    case SkinVerdict::not_foreseen: return "not_foreseen";
    case SkinVerdict::foreseen: return "foreseen";
    case SkinVerdict::no_reading: return "no_reading";
    case SkinVerdict::no_evidence: break;
  }
  return "no_evidence";
}

const SeenRule& usual_seen_rule() {
  static const SeenRule rule = [] {
    const auto value = [](const char* key) {
      return seen_file().at(key).at("value").get<double>();
    };
    return SeenRule{.leak_spread = value("leak_spread"),
                    .leak_floor = units::from_l_per_min(value("leak_floor_L_min")),
                    .finger_spread = value("finger_spread"),
                    .tail = value("tail"),
                    .far_spreads = value("far_spreads"),
                    .fewest_effective = value("fewest_effective"),
                    .little = units::from_mmhg(value("little_mmHg"))};
  }();
  return rule;
}

TensionBound bound_of(FingerCheck check) {
  const auto& row = seen_file().at("finger_tension_N").at(std::string(name_of(check)));
  return {row.at("low").get<double>(), row.at("high").get<double>()};
}

double leak_spread(double leak, const Observation& seen) {
  const SeenRule& rule = usual_seen_rule();
  return std::hypot(rule.leak_floor, seen.doubt.value_or(rule.leak_spread) * leak);
}

bool SeenUpdate::contradicts() const {
  const auto says_so = [](const auto& check) { return check.contradicts; };
  return all_far || std::any_of(leaks.begin(), leaks.end(), says_so) ||
         std::any_of(fingers.begin(), fingers.end(), says_so) ||
         std::any_of(skin.begin(), skin.end(), [](const SkinCheck& check) {
           return check.verdict == SkinVerdict::not_foreseen;
         });
}

SeenUpdate update(const Case& input, std::span<const DrawForeseen> draws) {
  SeenUpdate out;
  out.n_draws = draws.size();
  weigh(input, draws, out);
  const auto bands = [&](auto&& value) { return before_after(draws, out.weights, value); };
  const auto when = [](bool has, double value) {
    return has ? std::optional(value) : std::nullopt;
  };
  out.sealing_n = bands([&](const DrawForeseen& d) { return when(d.seals, d.sealing_n); });
  out.to_sealing_mm = bands([&](const DrawForeseen& d) { return when(d.seals, d.to_sealing_mm); });
  out.margin =
      bands([&](const DrawForeseen& d) { return when(d.at_case.seated, d.at_case.least_margin); });
  out.leak = bands([](const DrawForeseen& d) { return leak_in(d.at_case); });
  out.worst = bands([&](const DrawForeseen& d) {
    return when(d.at_case.seated, worst_contact(d.at_case).sensor);
  });
  double sum = 0;
  for (std::size_t d = 0; d < draws.size(); ++d) {
    sum += out.weights[d];
    if (!draws[d].seals_at_case) continue;
    out.seals_before += 1;
    out.seals_after += out.weights[d];
  }
  if (!draws.empty()) out.seals_before /= static_cast<double>(draws.size());
  if (sum > 0) out.seals_after /= sum;
  for (std::size_t k = 0; k < input.seen.size(); ++k) {
    const Observation& seen = input.seen[k];
    if (seen.leak) out.leaks.push_back(check_leak(input, draws, out.weights, k));
    if (seen.finger) out.fingers.push_back(check_finger(input, draws, out.weights, k));
    for (const SkinSeen& each : seen.skin) {
      out.skin.push_back(check_skin(draws, out.weights, k, each));
    }
  }
  return out;
}

}  // namespace rimload
