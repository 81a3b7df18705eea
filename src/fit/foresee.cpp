#include "fit/foresee.hpp"

#include <algorithm>
#include <numeric>

#include "fit/drawn_fit.hpp"
#include "fit/parts.hpp"
#include "fit/strap_setting.hpp"
#include "fit/strap_sweep.hpp"

namespace rimload {

namespace {

using Tensions = std::vector<double>;

double mean_of(const Tensions& tension_n) {
  return std::accumulate(tension_n.begin(), tension_n.end(), 0.0) /
         static_cast<double>(tension_n.size());
}

// Of each strap's tension to their mean; alike when all are slack.
Tensions proportion_of(Tensions tension_n) {
  const double mean = mean_of(tension_n);
  for (double& each : tension_n) each = mean > 0 ? each / mean : 1;
  return tension_n;
}

BreathReading read_at(Trial& trial, const Tensions& asked, const UncertainInputs& draw) {
  trial.set_straps(drawn_straps(asked, draw));
  return read_breath(trial);
}

}  // namespace

std::vector<double> straps_of(const Observation& seen, const Estimate& estimate) {
  if (!seen.straps.tension_n.empty()) return seen.straps.tension_n;
  if (seen.straps.word) {
    Case input = estimate.input;
    input.straps = seen.straps;
    return set_straps(input, estimate.face, estimate.mask).tension_n;
  }
  Tensions out = estimate.strap_tension_n;
  for (std::size_t k = 0; k < out.size(); ++k) {
    const double stiffness = estimate.mask.straps[k].stiffness_n_mm;
    out[k] = std::max(0.0, out[k] + stiffness * seen.strap_change_mm);
  }
  return out;
}

std::vector<DrawForeseen> foresee(const Estimate& estimate, std::span<const UncertainInputs> draws,
                                  int n_threads, const Progress& progress) {
  const Tensions& at_case = estimate.strap_tension_n;
  const Tensions proportion = proportion_of(at_case);
  std::vector<Tensions> asked;
  for (const Observation& seen : estimate.input.seen) asked.push_back(straps_of(seen, estimate));
  Trial as_taken(estimate.input, estimate.face, estimate.mask);
  const StrapWindow usual = find_just_sealed(as_taken, proportion);
  const std::optional<double> near_n =
      usual.seals ? std::optional<double>(usual.sealing_n) : std::nullopt;
  const std::vector<FaceModel> faces = faces_of_draws(estimate.input, draws);

  std::vector<DrawForeseen> out(draws.size());
  const auto solve = [&](int part) {
    const auto d = static_cast<std::size_t>(part);
    const UncertainInputs& draw = draws[d];
    const DrawnFit drawn = drawn_fit(estimate, faces.empty() ? nullptr : &faces[d], draw);
    Trial trial(drawn.input, drawn.face, drawn.mask);
    DrawForeseen& here = out[d];
    const StrapWindow window = find_just_sealed(trial, proportion, near_n);
    here.seals = window.seals;
    if (window.seals) {
      here.sealing_n = window.sealing_n;
      here.to_sealing_mm = strap_travel_mm(drawn.mask, window.sealing_n / draw.strap_factor) -
                           strap_travel_mm(drawn.mask, mean_of(at_case));
    }
    here.at_case = read_at(trial, at_case, draw);
    here.seals_at_case = here.at_case.seals(drawn.input);
    for (const Tensions& each : asked) {
      here.at.push_back(each == at_case ? here.at_case : read_at(trial, each, draw));
      here.pull_n.push_back(mean_of(drawn_straps(each, draw)));
    }
  };
  run_parts(static_cast<int>(draws.size()), n_threads, solve, progress);
  return out;
}

}  // namespace rimload
