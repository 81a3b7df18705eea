#include "fit/strap_optimum.hpp"

#include <algorithm>
#include <cmath>

#include "contact/told_apart.hpp"
#include "fit/strap_window.hpp"

namespace rimload {

namespace {

// Which way each strap goes, 1 or -1, when straps are set against one another.
using Contrast = std::vector<double>;

std::vector<Contrast> contrasts_of(const Mask& mask, bool lopsided) {
  Contrast upper;
  Contrast left;
  Contrast diagonal;
  for (const Strap& strap : mask.straps) {
    upper.push_back(is_upper(mask, strap) ? 1 : -1);
    left.push_back(is_left(strap) ? 1 : -1);
    diagonal.push_back(upper.back() * left.back());
  }
  std::vector<Contrast> out;
  const auto add = [&](const Contrast& contrast) {
    const auto [least, most] = std::minmax_element(contrast.begin(), contrast.end());
    if (*least == *most || std::find(out.begin(), out.end(), contrast) != out.end()) return;
    out.push_back(contrast);
  };
  add(upper);
  if (!lopsided) return out;
  add(left);
  add(diagonal);
  return out;
}

// Tension of each strap to their mean.
std::vector<double> proportion(const std::vector<Contrast>& contrasts,
                               const std::vector<double>& log_by) {
  std::vector<double> out(contrasts.front().size(), 0);
  for (std::size_t d = 0; d < contrasts.size(); ++d) {
    for (std::size_t s = 0; s < out.size(); ++s) out[s] += log_by[d] * contrasts[d][s];
  }
  double mean = 0;
  for (double& each : out) mean += each = std::exp(each);
  mean /= static_cast<double>(out.size());
  for (double& each : out) each /= mean;
  return out;
}

}  // namespace

bool is_upper(const Mask& mask, const Strap& strap) {
  double mean = 0;
  for (const Strap& each : mask.straps) mean += each.anchor_mask.y();
  return strap.anchor_mask.y() > mean / static_cast<double>(mask.straps.size());
}

bool is_left(const Strap& strap) { return strap.anchor_mask.x() > 0; }

WorstContact worst_that_counts(const BreathReading& reading, const Case& input) {
  WorstContact out = worst_contact(reading);
  if (input.dressing_rule.sensor_above_mmhg <= 0) return out;
  for (const SitePressure& each : reading.sites) {
    if (!is_strap_site(each.site) || each.sensor <= out.sensor + told_apart) continue;
    out = {each.sensor, {each.site, each.side}};
  }
  return out;
}

bool is_lopsided(const BreathReading& reading) {
  constexpr double share = 0.02;
  double sum = 0;
  double apart = 0;
  for (const SitePressure& left : reading.sites) {
    if (left.side != Side::left || is_strap_site(left.site) || left.site == Site::tube) continue;
    for (const SitePressure& right : reading.sites) {
      if (right.site != left.site || right.side != Side::right) continue;
      sum += left.sensor + right.sensor;
      apart += std::abs(left.sensor - right.sensor);
    }
  }
  return apart > share * sum;
}

std::optional<StrapOptimum> find_strap_optimum(Trial& trial, double sealing_n,
                                               const BreathReading& sealed) {
  const auto contrasts = contrasts_of(trial.mask(), is_lopsided(sealed));
  if (contrasts.empty()) return std::nullopt;
  StrapOptimum best;
  best.tension_n.assign(trial.mask().straps.size(), sealing_n);
  best.reading = sealed;
  best.worst = worst_that_counts(sealed, trial.input());
  best.equal_worst = best.worst.sensor;
  double near_n = sealing_n;
  const auto improves = [&](const std::vector<double>& log_by) {
    constexpr double by = 3e-3;  // just sealed is found within 0.2 %
    std::vector<double> tension = proportion(contrasts, log_by);
    const StrapWindow window = find_just_sealed(trial, tension, near_n);
    if (!window.seals) return false;
    for (double& each : tension) each *= window.sealing_n;
    trial.set_straps(tension);
    BreathReading reading = read_breath(trial);
    const WorstContact worst = worst_that_counts(reading, trial.input());
    if (!reading.seated || worst.sensor > (1 - by) * best.worst.sensor) return false;
    near_n = window.sealing_n;
    best.tension_n = std::move(tension);
    best.reading = std::move(reading);
    best.worst = worst;
    return true;
  };
  constexpr double first_step = 0.32;  // of half the logarithm of a ratio: 1.9 to one
  constexpr double last_step = 0.04;   // 8 %, finer than a hand sets a strap
  constexpr double farthest = 0.64;    // 3.6 to one
  std::vector<double> at(contrasts.size(), 0);
  for (double step = first_step; step >= last_step; step /= 2) {
    std::optional<std::size_t> came_by;  // a direction just gone: the other way is worse
    for (bool moved = true; moved;) {
      moved = false;
      for (std::size_t d = 0; d < at.size(); ++d) {
        for (const double way : {step, -step}) {
          std::vector<double> next = at;
          next[d] += way;
          if (std::abs(next[d]) > farthest || came_by == 2 * d + (way < 0 ? 0 : 1)) continue;
          if (!improves(next)) continue;
          at = std::move(next);
          came_by = 2 * d + (way < 0 ? 1 : 0);
          moved = true;
        }
      }
    }
  }
  return best;
}

}  // namespace rimload
