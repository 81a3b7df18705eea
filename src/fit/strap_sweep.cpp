#include "fit/strap_sweep.hpp"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <limits>

#include "fit/breath.hpp"
#include "leak/seal_law.hpp"

namespace rimload {

namespace {

constexpr double from_share_of_sealing = 0.4;
constexpr double past_upper_edge = 1.3;
constexpr double least_past_sealing = 2;
constexpr int n_split = 9;
constexpr double widest_log_ratio = 1.2;  // upper to lower tension, about 1 to 3.3 either way

StrapPoint at_setting(const UpperLower& setting) { return {{}, setting.upper_n, setting.lower_n}; }

std::vector<double> tensions(const Mask& mask, const UpperLower& setting) {
  std::vector<double> out;
  for (const Strap& strap : mask.straps) {
    out.push_back(is_upper(mask, strap) ? setting.upper_n : setting.lower_n);
  }
  return out;
}

struct Counts {
  double upper = 0, lower = 0;
  [[nodiscard]] bool both() const { return upper > 0 && lower > 0; }
};
Counts count_straps(const Mask& mask) {
  Counts out;
  for (const Strap& strap : mask.straps) (is_upper(mask, strap) ? out.upper : out.lower) += 1;
  return out;
}

// Upper to lower tension as exp(log_ratio), their mean over the straps being one.
UpperLower proportion(const Counts& n, double log_ratio) {
  const double ratio = std::exp(log_ratio);
  const double lower = (n.upper + n.lower) / (n.upper * ratio + n.lower);
  return {ratio * lower, lower};
}

std::optional<StrapOptimum> find_optimum(const Case& input, const FaceInUse& face, const Mask& mask,
                                         double equal_n) {
  const Counts n = count_straps(mask);
  if (!n.both()) return std::nullopt;
  Trial trial(input, face, mask);
  StrapOptimum best;
  best.worst = std::numeric_limits<double>::infinity();
  const auto try_setting = [&](double upper_n, double lower_n) {
    const StrapPoint point = strap_point(trial, {upper_n, lower_n});
    const WorstContact worst = worst_contact(point);
    if (!point.seated) return std::numeric_limits<double>::infinity();
    if (worst.sensor < best.worst) {
      best = {upper_n, lower_n, worst.sensor, worst.site, best.equal_worst};
    }
    return worst.sensor;
  };
  best.equal_worst = try_setting(equal_n, equal_n);
  const auto worst_at = [&](double log_ratio) {
    const UpperLower share = proportion(n, log_ratio);
    const StrapWindow sealed = find_just_sealed(trial, tensions(mask, share), equal_n);
    if (!sealed.seals) return 1.0;  // far above any pressure on skin [N/mm2]
    return try_setting(share.upper_n * sealed.sealing_n, share.lower_n * sealed.sealing_n);
  };
  constexpr int bits = 6;  // of the ratio: a tension read to 1 % is finer than a hand sets it
  std::uintmax_t most_steps = 12;
  boost::math::tools::brent_find_minima(worst_at, -widest_log_ratio, widest_log_ratio, bits,
                                        most_steps);
  return best;
}

}  // namespace

bool is_upper(const Mask& mask, const Strap& strap) {
  double mean = 0;
  for (const Strap& each : mask.straps) mean += each.anchor_mask.y();
  return strap.anchor_mask.y() > mean / static_cast<double>(mask.straps.size());
}

double strap_travel_mm(const Mask& mask, double tension_n) {
  double travel = 0;
  for (const Strap& strap : mask.straps) travel += tension_n / strap.stiffness_n_mm;
  return travel / static_cast<double>(mask.straps.size());
}

double StrapPoint::mean_n(const Mask& mask) const {
  const Counts n = count_straps(mask);
  return (n.upper * upper_n + n.lower * lower_n) / (n.upper + n.lower);
}

StrapPoint strap_point(Trial& trial, const UpperLower& setting) {
  trial.set_straps(tensions(trial.mask(), setting));
  return {read_breath(trial), setting.upper_n, setting.lower_n};
}

std::vector<StrapPoint> strap_points(const std::vector<UpperLower>& settings, const Case& input,
                                     const FaceInUse& face, const Mask& mask) {
  std::vector<StrapPoint> out;
  Trial trial(input, face, mask);
  for (const UpperLower& setting : settings) {
    out.push_back(at_setting(setting));
    out.back().seated = true;
  }
  for (const PhaseOfBreath& breath : phases_of(input.settings)) {
    for (std::size_t k = settings.size(); k-- > 0;) {  // from tight to loose
      if (!out[k].seated) continue;
      trial.set_straps(tensions(mask, settings[k]));
      const TrialPhase phase = trial.solve(breath.pressure);
      if (phase.seated) {
        add_phase(out[k], breath, phase, trial);
      } else {
        out[k] = at_setting(settings[k]);
      }
    }
  }
  return out;
}

StrapSweep sweep_straps(const Case& input, const FaceInUse& face, const Mask& mask, int n_points) {
  StrapSweep out;
  out.window = find_strap_window(input, face, mask);
  const StrapWindow& window = out.window;
  double from = 0.5;
  double to = strap_tension_limit_n;
  if (window.seals) {
    from = from_share_of_sealing * window.sealing_n;
    to = std::min(
        to, std::max(past_upper_edge * window.upper_n, least_past_sealing * window.sealing_n));
  }
  std::vector<UpperLower> equal;
  for (int k = 0; k < n_points; ++k) {
    const double tension = from + (to - from) * k / std::max(1, n_points - 1);
    equal.push_back({tension, tension});
  }
  out.equal = strap_points(equal, input, face, mask);
  for (const StrapPoint& point : out.equal) {
    constexpr double well_above = 1.01;
    if (!window.seals || point.upper_n < well_above * window.sealing_n) continue;
    if (!point.seated || point.least_margin < seal_law().sealed_above) {
      out.leaks_again_n = point.upper_n;
      break;
    }
  }
  const Counts n = count_straps(mask);
  if (n.both()) {
    const double mean = window.seals ? window.sealing_n : window.best_effort_n;
    std::vector<UpperLower> split;
    for (int k = 0; k < n_split; ++k) {
      const UpperLower share = proportion(n, widest_log_ratio * (2.0 * k / (n_split - 1) - 1));
      split.push_back({mean * share.upper_n, mean * share.lower_n});
    }
    out.split = strap_points(split, input, face, mask);
  }
  if (window.seals) out.optimum = find_optimum(input, face, mask, window.sealing_n);
  return out;
}

}  // namespace rimload
