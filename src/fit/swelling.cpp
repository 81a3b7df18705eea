#include "fit/swelling.hpp"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <limits>

#include "fit/breath_reading.hpp"
#include "fit/strap_window.hpp"

namespace rimload {

namespace {

// A face swollen by one step, tried at any length of strap.
class SwollenFace {
 public:
  SwollenFace(const Estimate& estimate, double raise_mm)
      : estimate_(estimate),
        face_(raised(estimate.face, raise_mm)),
        trial_(estimate.input, face_, estimate.mask, estimate.placement) {}

  BreathReading let_out(double length_mm) {
    std::vector<double> tension = estimate_.strap_tension_n;
    for (std::size_t k = 0; k < tension.size(); ++k) {
      const double loss = estimate_.mask.straps[k].stiffness_n_mm * length_mm;
      tension[k] = std::max(0.0, tension[k] - loss);
    }
    trial_.set_straps(std::move(tension));
    return read_breath(trial_);
  }

 private:
  static FaceInUse raised(FaceInUse face, double raise_mm) {
    face.cover = face.cover.value_or(SkinCover{}).raised_by(raise_mm);
    return face;
  }

  const Estimate& estimate_;
  FaceInUse face_;
  Trial trial_;
};

std::vector<SwollenSite> compare(const BreathReading& before, const BreathReading& after) {
  std::vector<SwollenSite> out;
  for (std::size_t k = 0; k < before.sites.size(); ++k) {
    const SitePressure& was = before.sites[k];
    const SitePressure& is = after.sites[k];
    if (was.site == Site::eyelid || was.site == Site::tube) continue;
    if (was.sensor <= 0 && is.sensor <= 0) continue;
    out.push_back({{was.site, was.side}, was.sensor, is.sensor});
  }
  return out;
}

// How far the hardest pressed sites read above what they did.
double excess(const BreathReading& before, const BreathReading& after) {
  if (!after.seated) return -1;  // let out so far that it lifts off
  const double least = window_share * worst_contact(before).sensor;
  double out = -std::numeric_limits<double>::infinity();
  for (const SwollenSite& site : compare(before, after)) {
    if (is_strap_site(site.site.site) || site.before < least) continue;
    out = std::max(out, site.after / site.before - 1);
  }
  return out;
}

}  // namespace

Estimate with_swelling(Estimate estimate) {
  const auto seats = [](const PhaseEstimate& phase) { return phase.seated; };
  if (!std::all_of(estimate.phases.begin(), estimate.phases.end(), seats)) return estimate;
  const BreathReading before = SwollenFace(estimate, 0).let_out(0);
  if (!before.seated) return estimate;
  std::vector<SwellingStep> out;
  for (const double raise_mm : swelling_raises_mm) {
    SwollenFace face(estimate, raise_mm);
    SwellingStep step;
    step.raise_mm = raise_mm;
    const BreathReading after = face.let_out(0);
    step.seated = after.seated;
    if (!after.seated) {
      out.push_back(std::move(step));
      continue;
    }
    step.sites = compare(before, after);
    // Every strap is slack at the longest.
    double longest = 0;
    for (std::size_t k = 0; k < estimate.mask.straps.size(); ++k) {
      longest =
          std::max(longest, estimate.strap_tension_n[k] / estimate.mask.straps[k].stiffness_n_mm);
    }
    const auto rise = [&](double length_mm) { return excess(before, face.let_out(length_mm)); };
    const double at_none = excess(before, after);
    if (at_none <= 0) {
      step.let_out_mm = 0;
    } else if (const double at_longest = rise(longest); at_longest <= 0) {
      constexpr double tolerance_mm = 0.05;
      const auto close = [](double a, double b) { return b - a < tolerance_mm; };
      std::uintmax_t most_steps = 20;
      step.let_out_mm = boost::math::tools::toms748_solve(rise, 0.0, longest, at_none, at_longest,
                                                          close, most_steps)
                            .second;
    }
    if (step.let_out_mm) step.seals_let_out = face.let_out(*step.let_out_mm).seals(estimate.input);
    out.push_back(std::move(step));
  }
  estimate.swelling = std::move(out);
  return estimate;
}

}  // namespace rimload
