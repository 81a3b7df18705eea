#include "fit/fit.hpp"

#include <algorithm>
#include <set>

#include "case/mask_of_case.hpp"
#include "fit/caution.hpp"
#include "fit/strap_setting.hpp"
#include "leak/seal_law.hpp"

namespace rimload {

std::string_view name_of(Phase phase) {
  switch (phase) {
    case Phase::expiratory: return "expiratory";
    case Phase::inspiratory: return "inspiratory";
    case Phase::continuous: break;
  }
  return "continuous";
}

FaceInUse::FaceInUse(const FaceModel& model, double poisson)
    : skin(model.landmarks),
      tissue(skin, model.landmarks),
      modulus(poisson),
      site_of(model.landmarks) {}

namespace {

struct PhaseOfBreath {
  Phase phase;
  double pressure;
};

std::vector<PhaseOfBreath> phases_of(const Settings& settings) {
  if (!settings.bilevel) return {{Phase::continuous, settings.expiratory}};
  return {{Phase::expiratory, settings.expiratory}, {Phase::inspiratory, settings.inspiratory}};
}

double breath_mean(const std::vector<PhaseEstimate>& phases, const Settings& settings) {
  double mean = 0;
  for (const PhaseEstimate& phase : phases) {
    const double share = phase.phase == Phase::continuous    ? 1
                         : phase.phase == Phase::inspiratory ? settings.inspiratory_fraction
                                                             : 1 - settings.inspiratory_fraction;
    mean += share * phase.leak.total;
  }
  return mean;
}

// The first phase is that of lowest gas pressure, in which the skin is pressed hardest.
std::vector<DressingPlace> places_for(const Estimate& estimate) {
  const PhaseEstimate& phase = estimate.phases.front();
  if (!phase.seated) return {};
  const FaceInUse& face = estimate.face;
  std::vector<DressingPlace> places = dressing_places(
      {.skin = face.skin,
       .tissue = face.tissue,
       .site_of = face.site_of,
       .mask = estimate.mask,
       .state = phase.state,
       .sites = phase.sites,
       .sealing_need = estimate.input.settings.inspiratory + seal_law().sealed_above,
       .hours_planned = estimate.input.hours_planned},
      estimate.input.dressing_rule);
  // Injured skin is taken off load, never dressed to carry on.
  std::erase_if(places, [&](const DressingPlace& place) {
    const auto& injured = estimate.input.safety.injured_sites;
    return std::find(injured.begin(), injured.end(), place.site) != injured.end();
  });
  return places;
}

}  // namespace

Estimate estimate_fit(const Case& input) {
  FaceInUse face(input.face);
  Mask mask = make_mask(input);
  StrapSetting straps = set_straps(input, face, mask);
  const Gas gas = humid_gas(input.settings.oxygen_fraction);
  Trial trial(input, face, mask);
  trial.set_straps(straps.tension_n);
  std::vector<PhaseEstimate> phases;
  for (const PhaseOfBreath& breath : phases_of(input.settings)) {
    TrialPhase solved = trial.solve(breath.pressure);
    PhaseEstimate phase;
    phase.phase = breath.phase;
    phase.seated = solved.seated;
    phase.reason = std::move(solved.reason);
    if (phase.seated) {
      phase.sites = site_pressures(solved.state.samples, face.site_of);
      const auto under_straps = strap_pressures(solved.state.straps, mask.straps);
      phase.sites.insert(phase.sites.end(), under_straps.begin(), under_straps.end());
      phase.seal = rim_seal(solved.state, mask, face.site_of, gas);
      phase.leak = rim_leak(phase.seal, solved.state, mask, input.face.landmarks);
    }
    phase.state = std::move(solved.state);
    phases.push_back(std::move(phase));
  }
  Estimate out{.input = input,
               .face = std::move(face),
               .mask = std::move(mask),
               .placement = trial.placement(),
               .phases = std::move(phases),
               .breath_mean_leak = 0,
               .strap_tension_n = std::move(straps.tension_n),
               .strap_note = std::move(straps.note),
               .dressing_places = {},
               .cautions = cautions_for(input)};
  out.breath_mean_leak = breath_mean(out.phases, input.settings);
  out.dressing_places = places_for(out);
  return out;
}

}  // namespace rimload
