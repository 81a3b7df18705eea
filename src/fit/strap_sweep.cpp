#include "fit/strap_sweep.hpp"

#include <algorithm>
#include <cmath>

#include "fit/breath.hpp"
#include "fit/parts.hpp"

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

std::vector<UpperLower> equal_settings(const StrapWindow& window, int n_points) {
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
  return equal;
}

// The lowest tension well above the just-sealed one at which a mask leaks again.
std::optional<double> leak_above(const StrapWindow& window, const std::vector<StrapPoint>& equal,
                                 const Case& input) {
  constexpr double well_above = 1.01;
  if (!window.seals) return std::nullopt;
  for (const StrapPoint& point : equal) {
    if (point.upper_n >= well_above * window.sealing_n && !point.seals(input)) {
      return point.upper_n;
    }
  }
  return std::nullopt;
}

// From lower to upper straps.
std::vector<UpperLower> split_settings(double mean_n, const Mask& mask) {
  const Counts n = count_straps(mask);
  if (!n.both()) return {};
  std::vector<UpperLower> split;
  for (int k = 0; k < n_split; ++k) {
    const UpperLower share = proportion(n, widest_log_ratio * (2.0 * k / (n_split - 1) - 1));
    split.push_back({mean_n * share.upper_n, mean_n * share.lower_n});
  }
  return split;
}

}  // namespace

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

StrapSweep sweep_straps(const Case& input, const FaceInUse& face, const Mask& mask,
                        const SweepOptions& options) {
  StrapSweep out;
  out.window = find_strap_window(input, face, mask);
  Trial trial(input, face, mask);
  const double edge_n = out.window.seals ? out.window.sealing_n : out.window.best_effort_n;
  out.edge = strap_point(trial, {edge_n, edge_n});
  const auto sweep = [&] {
    out.equal = strap_points(equal_settings(out.window, options.n_points), input, face, mask);
    out.leaks_again_n = leak_above(out.window, out.equal, input);
    out.split = strap_points(split_settings(edge_n, mask), input, face, mask);
  };
  const auto set_apart = [&] {
    if (!out.window.seals || !out.edge.seated) return;
    out.optimum = find_strap_optimum(trial, out.window.sealing_n, out.edge);
  };
  run_parts(2, options.n_threads, [&](int part) {
    if (part == 0) set_apart();
    if (part == 1) sweep();
  });
  return out;
}

}  // namespace rimload
