#include "fit/strap_window.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

#include "fit/breath.hpp"
#include "fit/breath_reading.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

constexpr double first_tension_n = 0.3;
constexpr double tension_ratio = 1.3;  // a coarser step can pass over a narrow window
constexpr double log_tolerance = 2e-3;
constexpr double not_seated = -1;  // far below any margin [N/mm2]

// What each site of a reading may read before it ends the window: infinity where it can't.
std::vector<double> allowed_readings(const BreathReading& sealed, double limit) {
  const auto is_contact = [](Site site) { return !is_strap_site(site) && site != Site::tube; };
  double most = 0;
  for (const SitePressure& each : sealed.sites) {
    if (is_contact(each.site) && each.site != Site::eyelid) most = std::max(most, each.sensor);
  }
  std::vector<double> out(sealed.sites.size(), std::numeric_limits<double>::infinity());
  for (std::size_t k = 0; k < out.size(); ++k) {
    const SitePressure& each = sealed.sites[k];
    if (each.site == Site::eyelid) continue;
    if (limit > 0) {
      out[k] = limit;
    } else if (is_contact(each.site) && each.sensor >= window_share * most) {
      out[k] = window_rise * each.sensor;
    }
  }
  return out;
}

// Where a nearly straight, increasing function of log tension comes to be 0 or more, between two
// bracketing tensions: a tension at which it is, about the tolerance above the root at most.
// Secants, aimed half the tolerance too high, so that they land on that side; halving where they
// stall. A method that has to narrow the bracket itself needs half as many looks again.
template <typename Function>
double crossing(Function&& function, double low, double high, double at_low, double at_high) {
  double a = std::log(low);
  double b = std::log(high);
  int same_side = 0;
  for (int step = 0; step < 60 && b - a > log_tolerance; ++step) {
    const bool straight = at_low > not_seated / 2;  // a leap can't be followed by a line
    const double slope = (at_high - at_low) / (b - a);
    const double secant = a - at_low / slope + 0.5 * log_tolerance;
    const bool trusted = straight && std::abs(same_side) < 2 && secant > a && secant < b;
    const double next = trusted ? secant : (a + b) / 2;
    const double at_next = function(std::exp(next));
    if (at_next >= 0) {
      const double local = (at_next - at_low) / (next - a);
      b = next;
      at_high = at_next;
      same_side = std::max(same_side, 0) + 1;
      if (straight && at_next <= local * log_tolerance) break;
    } else {
      a = next;
      at_low = at_next;
      same_side = std::min(same_side, 0) - 1;
    }
  }
  return std::exp(b);
}

// The tension nearest to one given at which a mask comes to seal; nothing when none is found within
// a factor of three. A step goes a little beyond where a straight line through the last two points
// crosses, or twice as far as the last where there is no telling.
template <typename Reserve>
std::optional<double> edge_near(Reserve&& reserve, double near_n) {
  constexpr double first_step = 0.05;  // of the logarithm
  constexpr double farthest = 1.1;
  constexpr double beyond = 1.15;
  const double at_near = reserve(near_n);
  const double way = at_near >= 0 ? -1 : 1;
  double last = near_n;
  double at_last = at_near;
  double gone = 0;
  double step = first_step;
  while (gone < farthest) {
    gone += step;
    const double next =
        std::clamp(near_n * std::exp(way * gone), first_tension_n, strap_tension_limit_n);
    if (next == last) break;
    const double at_next = reserve(next);
    if ((at_next >= 0) != (at_near >= 0)) {
      return way < 0 ? crossing(reserve, next, last, at_next, at_last)
                     : crossing(reserve, last, next, at_last, at_next);
    }
    const double slope = (at_next - at_last) / step;
    const double left = slope != 0 ? -at_next / slope : 0;
    step = left > 0 && left < farthest ? std::max(first_step, beyond * left) : 2 * step;
    last = next;
    at_last = at_next;
  }
  if (at_near >= 0 && last == first_tension_n) return last;  // seals at the lowest there is
  return std::nullopt;
}

}  // namespace

double seal_reserve(Trial& trial, std::vector<double> tension_n) {
  const Mask& mask = trial.mask();
  const double need = trial.input().sealed_above;
  trial.set_straps(std::move(tension_n));
  double least = std::numeric_limits<double>::infinity();
  const std::size_t n_across = mask.rim.n_across();
  for (const PhaseOfBreath& breath : phases_of(trial.input().settings)) {
    const TrialPhase phase = trial.solve(breath.pressure);
    if (!phase.seated) return not_seated;
    for (std::size_t i = 0; i < mask.rim.n_stations(); ++i) {
      double pressed = 0;
      double gap = std::numeric_limits<double>::infinity();
      for (std::size_t j = 0; j < n_across; ++j) {
        const ContactSample& sample = phase.state.samples[i * n_across + j];
        pressed = std::max(pressed, sample.pressure);
        gap = std::min(gap, sample.gap_mm);
      }
      const double stiffness = mask.lip.stiffness_n_mm3 * mask.rim.stations[i].stiffness_factor;
      const double open = stiffness * std::max(0.0, gap);
      least = std::min(least, pressed - breath.pressure - need - open);
    }
  }
  return least;
}

StrapWindow find_just_sealed(Trial& trial, std::span<const double> proportion,
                             std::optional<double> near_n) {
  assert(proportion.size() == trial.mask().straps.size());
  StrapWindow out;
  const auto reserve = [&](double mean_n) {
    std::vector<double> tension(proportion.begin(), proportion.end());
    for (double& each : tension) each *= mean_n;
    return seal_reserve(trial, std::move(tension));
  };
  if (near_n) {
    const double near = std::clamp(*near_n, first_tension_n, strap_tension_limit_n);
    if (const auto edge = edge_near(reserve, near)) {
      out.seals = true;
      out.sealing_n = out.best_effort_n = *edge;
      return out;
    }
  }
  double low = first_tension_n;
  double at_low = reserve(low);
  out.best_effort_n = low;
  double best = at_low;
  if (at_low >= 0) {
    out.seals = true;
    out.sealing_n = low;
  }
  while (!out.seals && low < strap_tension_limit_n) {
    const double high = std::min(low * tension_ratio, strap_tension_limit_n);
    const double at_high = reserve(high);
    if (at_high > best) {
      best = at_high;
      out.best_effort_n = high;
    }
    if (at_high >= 0) {
      out.seals = true;
      out.sealing_n = crossing(reserve, low, high, at_low, at_high);
    }
    low = high;
    at_low = at_high;
  }
  return out;
}

StrapWindow find_strap_window(const Case& input, const FaceInUse& face, const Mask& mask,
                              std::optional<double> near_n) {
  Trial trial(input, face, mask);
  const std::vector<double> alike(mask.straps.size(), 1.0);
  StrapWindow out = find_just_sealed(trial, alike, near_n);
  if (!out.seals) return out;

  const auto read = [&](double tension_n) {
    trial.set_straps(std::vector<double>(mask.straps.size(), tension_n));
    return read_breath(trial);
  };
  const double limit = units::from_mmhg(input.dressing_rule.sensor_above_mmhg);
  const std::vector<double> allowed = allowed_readings(read(out.sealing_n), limit);
  const auto excess = [&](double tension_n) {
    const BreathReading reading = read(tension_n);
    if (!reading.seated) return 1.0;
    double worst = -1;
    for (std::size_t k = 0; k < allowed.size(); ++k) {
      const double here = reading.sites[k].sensor / allowed[k] - 1;
      if (here <= worst) continue;
      worst = here;
      out.upper_site = {reading.sites[k].site, reading.sites[k].side};
    }
    return worst;
  };
  double low = out.sealing_n;
  double at_low = excess(low);
  out.upper_n = strap_tension_limit_n;
  while (low < strap_tension_limit_n) {
    const double high = std::min(low * tension_ratio, strap_tension_limit_n);
    const double at_high = at_low >= 0 ? at_low : excess(high);
    if (at_high >= 0) {
      out.upper_n = at_low >= 0 ? low : crossing(excess, low, high, at_low, at_high);
      (void)excess(out.upper_n);  // names the site that ends it there
      out.upper_end = limit > 0 ? WindowEnd::user_limit : WindowEnd::site_rise;
      break;
    }
    low = high;
    at_low = at_high;
  }
  return out;
}

}  // namespace rimload
