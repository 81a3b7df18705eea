#include "choice/size_choice.hpp"

#include <algorithm>
#include <cmath>

#include "case/mask_of_case.hpp"
#include "choice/size_ranking.hpp"
#include "contact/told_apart.hpp"
#include "fit/breath.hpp"
#include "fit/caution.hpp"
#include "fit/drawn_fit.hpp"
#include "fit/parts.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

Case case_with(const Case& input, const Cushion& cushion) {
  Case out = input;
  out.cushion = cushion;
  out.worn.clear();
  out.catalogue.clear();  // not needed, and copied with every draw
  return out;
}

// Just sealed and a step tighter.
std::vector<double> setting(const Mask& mask, double sealing_n, double step_mm) {
  std::vector<double> out;
  for (const Strap& strap : mask.straps) out.push_back(sealing_n + strap.stiffness_n_mm * step_mm);
  return out;
}

void try_as_taken(const Case& input, const FaceInUse& face, const SizeRule& rule,
                  SizeCandidate& out) {
  const Case with = case_with(input, out.cushion);
  const Mask mask = make_mask(with);
  out.window = find_strap_window(with, face, mask);
  if (!out.window.seals) return;
  StrapSetting straps{setting(mask, out.window.sealing_n, rule.strap_step_mm.value), {}};
  Estimate estimate =
      estimate_at({.input = with, .face = face, .mask = mask, .straps = std::move(straps)});
  const auto seats = [](const PhaseEstimate& phase) { return phase.seated; };
  if (!std::all_of(estimate.phases.begin(), estimate.phases.end(), seats)) return;
  for (const PhaseEstimate& phase : estimate.phases) {
    for (const SitePressure& site : phase.sites) {
      const SidedSite place{site.site, site.side};
      const auto& injured = input.safety.injured_sites;
      if (site.sensor > 0 && std::find(injured.begin(), injured.end(), place) != injured.end()) {
        std::string reason = "presses the " + place_words(place) + ", where the skin is injured";
        if (std::find(out.excluded.begin(), out.excluded.end(), reason) == out.excluded.end()) {
          out.excluded.push_back(std::move(reason));
        }
      }
      if (is_strap_site(site.site) || site.site == Site::eyelid || site.site == Site::tube)
        continue;
      if (site.sensor > out.worst.sensor + told_apart) out.worst = {site.sensor, place};
    }
  }
  for (const Clearance& clearance : estimate.clearances) {
    if (clearance.too_near()) out.too_near.push_back(clearance);
  }
  out.estimate = std::move(estimate);
}

// How a draw's straps are found.
struct StrapSearch {
  std::optional<double> near_n;  // where the just-sealed tension is, as the inputs are taken
  double step_mm = 0;            // past it
};

SizeDraw try_draw(const Case& input, const FaceInUse& face, const UncertainInputs& inputs,
                  const StrapSearch& straps) {
  const Mask mask = with_inputs(make_mask(input), inputs);
  Trial trial(input, face, mask);
  const std::vector<double> alike(mask.straps.size(), 1.0);
  SizeDraw out;
  const StrapWindow window = find_just_sealed(trial, alike, straps.near_n);
  if (!window.seals) return out;
  out.sealing_n = window.sealing_n;
  trial.set_straps(drawn_straps(setting(mask, window.sealing_n, straps.step_mm), inputs));
  const BreathReading breath = read_breath(trial);
  if (!breath.seated) return out;
  out.seals = true;
  out.worst = worst_contact(breath).sensor;
  out.leak = breath.mean_leak;
  return out;
}

void sum_up(SizeCandidate& candidate) {
  std::vector<double> worst, leak, sealing;
  for (const SizeDraw& draw : candidate.draws) {
    if (!draw.seals) continue;
    worst.push_back(draw.worst);
    leak.push_back(draw.leak);
    sealing.push_back(draw.sealing_n);
  }
  candidate.seals_share = candidate.draws.empty() ? (candidate.estimate ? 1 : 0)
                                                  : static_cast<double>(worst.size()) /
                                                        static_cast<double>(candidate.draws.size());
  if (worst.empty()) return;
  candidate.worst_band = band_of(std::move(worst));
  candidate.leak_band = band_of(std::move(leak));
  candidate.sealing_band = band_of(std::move(sealing));
}

bool fits(const SizeCandidate& candidate, const SizeRule& rule) {
  return candidate.excluded.empty() && candidate.estimate && candidate.too_near.empty() &&
         !candidate.leaks_too_much && candidate.seals_share >= rule.seals_in_share.value;
}

std::vector<DriverShare> drivers_for(const SizeCandidate& best,
                                     const std::vector<UncertainInputs>& draws) {
  std::vector<UncertainInputs> sealing;
  std::vector<double> worst;
  for (std::size_t k = 0; k < best.draws.size(); ++k) {
    if (!best.draws[k].seals) continue;
    sealing.push_back(draws[k]);
    worst.push_back(best.draws[k].worst);
  }
  return drivers_of(sealing, worst, best.cushion);
}

// What to try when none fits.
std::vector<std::string> advice_for(const SizeChoice& choice) {
  const Case& input = choice.input;
  std::vector<std::string> out;
  if (input.beard) out.emplace_back("shave a strip under the rim, or all of the beard");
  if (input.tube && !input.tube->through_port) {
    out.emplace_back("a cushion with a sealed port for the tube");
  }
  if (input.dentures == Dentures::out) out.emplace_back("dentures in, if they sit firmly");
  const bool nasal_only = std::all_of(
      choice.candidates.begin(), choice.candidates.end(), [](const SizeCandidate& candidate) {
        return candidate.cushion.type == CushionType::nasal || !candidate.excluded.empty();
      });
  if (nasal_only) out.emplace_back("another type of mask: no mask over the mouth is left");
  out.emplace_back("other cushions than this catalogue has, or another interface");
  out.emplace_back("less pressure, if who prescribed it agrees");
  return out;
}

}  // namespace

SizeChoice choose_size(const Case& input, const SizeOptions& options) {
  SizeChoice out;
  out.input = input;
  out.rule = size_rule_for(input.size_request);
  const SizeRule& rule = out.rule;
  for (const Cushion& cushion : input.catalogue) {
    out.candidates.emplace_back();
    out.candidates.back().cushion = cushion;
    out.candidates.back().excluded = reasons_against(input, cushion);
  }
  const FaceInUse face(input.face);
  const auto n = static_cast<int>(out.candidates.size());
  const auto tell = [&](int before) {
    return [&options, before, n](int done, int /*all*/) {
      if (options.progress) options.progress(before + done, n + options.n_draws);
    };
  };
  run_parts(
      n, options.n_threads,
      [&](int k) {
        SizeCandidate& candidate = out.candidates[static_cast<std::size_t>(k)];
        if (candidate.excluded.empty()) try_as_taken(input, face, rule, candidate);
      },
      tell(0));
  std::vector<UncertainInputs> inputs;
  if (options.n_draws > 0) inputs = uncertain_draws(options.n_draws, options.seed);
  for (SizeCandidate& candidate : out.candidates) {
    if (candidate.excluded.empty()) candidate.draws.resize(inputs.size());
  }
  const std::vector<FaceModel> faces = faces_of_draws(input, inputs);
  run_parts(
      options.n_draws, options.n_threads,
      [&](int d) {
        const auto draw = static_cast<std::size_t>(d);
        const FaceInUse drawn =
            with_inputs(faces.empty() ? face : face_of_draw(face, faces[draw]), inputs[draw]);
        for (SizeCandidate& candidate : out.candidates) {
          if (!candidate.excluded.empty()) continue;
          Case with = with_inputs(case_with(input, candidate.cushion), inputs[draw]);
          with.sampling = draw_sampling;
          if (!faces.empty()) with.face = faces[draw];
          StrapSearch straps{.near_n = {}, .step_mm = rule.strap_step_mm.value};
          if (candidate.window.seals) straps.near_n = candidate.window.sealing_n;
          candidate.draws[draw] = try_draw(with, drawn, inputs[draw], straps);
        }
      },
      tell(n));
  for (SizeCandidate& candidate : out.candidates) {
    sum_up(candidate);
    if (!candidate.estimate) continue;
    candidate.leaks_too_much =
        units::to_l_per_min(candidate.median_leak()) > input.leak_limit_l_min;
    candidate.fits = fits(candidate, rule);
  }
  rank_candidates(rule, out.candidates);
  if (!out.candidates.empty()) {
    out.any_fits = out.candidates.front().fits;
    if (out.candidates.front().rank) out.drivers = drivers_for(out.candidates.front(), inputs);
  }
  if (!out.any_fits) out.advice = advice_for(out);
  return out;
}

}  // namespace rimload
