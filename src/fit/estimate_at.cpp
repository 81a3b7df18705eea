#include "fit/estimate_at.hpp"

#include <algorithm>

#include "fit/breath.hpp"
#include "fit/caution.hpp"
#include "fit/skin_tolerance.hpp"
#include "fit/under_lip.hpp"
#include "skin/load_spread.hpp"

namespace rimload {

FaceInUse::FaceInUse(const FaceModel& model, double poisson)
    : skin(model.landmarks),
      tissue(skin, model.landmarks),
      modulus(poisson),
      site_of(model.landmarks) {}

namespace {

// The rim where it is put on, each sample as if it lay on the skin nearest to it.
PhaseState as_put_on(const Estimate& estimate) {
  PhaseState out;
  out.pose = estimate.placement;
  const SampledRim& rim = estimate.mask.rim;
  for (std::size_t i = 0; i < rim.n_stations(); ++i) {
    for (std::size_t j = 0; j < rim.n_across(); ++j) {
      ContactSample sample;
      sample.position = out.pose * rim.sample(i, j);
      sample.foot = estimate.face.skin.closest(sample.position).foot;
      out.samples.push_back(sample);
    }
  }
  return out;
}

// Not where one is worn.
std::vector<DressingPlace> places_for(const Estimate& estimate) {
  if (!estimate.phases.front().seated) return {};
  std::vector<DressingPlace> places =
      dressing_places(dressing_question(estimate), estimate.input.dressing_rule);
  std::erase_if(places, [&](const DressingPlace& place) {
    return std::any_of(estimate.worn.begin(), estimate.worn.end(),
                       [&](const WornPiece& piece) { return piece.place.site == place.site; });
  });
  return places;
}

}  // namespace

// The first phase is that of lowest gas pressure, in which the skin is pressed hardest.
DressingQuestion dressing_question(const Estimate& estimate) {
  const PhaseEstimate& phase = estimate.phases.front();
  const FaceInUse& face = estimate.face;
  return {.skin = face.skin,
          .tissue = face.tissue,
          .site_of = face.site_of,
          .mask = estimate.mask,
          .state = phase.state,
          .sites = phase.sites,
          .sealing_need = estimate.input.settings.inspiratory + estimate.input.sealed_above,
          .hours_planned = estimate.input.hours_planned,
          .injured = estimate.input.safety.injured_sites};
}

EstimateStart start_of(const Estimate& estimate) {
  return {estimate.placement, balances_of(estimate.phases)};
}

void read_rest(Estimate& estimate) {
  const Case& input = estimate.input;
  for (PhaseEstimate& phase : estimate.phases) {
    if (!phase.seated) continue;
    phase.sites = site_pressures(phase.on_skin, estimate.face.site_of);
    const auto under_straps = strap_pressures(phase.state.straps, estimate.mask.straps);
    phase.sites.insert(phase.sites.end(), under_straps.begin(), under_straps.end());
    if (phase.under.tube) {
      phase.sites.push_back(site_of_tube(*phase.under.tube, input.tube->side));
    }
  }
  estimate.dressing_places = places_for(estimate);
  estimate.skin = skin_tolerance(input, estimate.phases);
  const PhaseEstimate& first = estimate.phases.front();
  estimate.clearances = rim_clearances(first.seated ? first.state : as_put_on(estimate),
                                       input.cushion.type, input.face.landmarks);
}

Estimate estimate_at(EstimateQuestion question) {
  const Case& input = question.input;
  const FaceInUse& face = question.face;
  const Mask& mask = question.mask;
  StrapSetting& straps = question.straps;
  const Gas gas = humid_gas(input.settings.oxygen_fraction);
  std::optional<EstimateStart>& start = question.start;
  Trial trial(input, face, mask, start ? std::optional(start->placement) : std::nullopt,
              Effort::report);
  trial.set_straps(straps.tension_n);
  if (start) trial.start_from(std::move(start->balances));
  std::vector<PhaseEstimate> phases;
  double mean_leak = 0;
  for (const PhaseOfBreath& breath : phases_of(input.settings)) {
    TrialPhase solved = trial.solve(breath.pressure);
    PhaseEstimate phase;
    phase.phase = breath.phase;
    phase.seated = solved.seated;
    phase.reason = std::move(solved.reason);
    phase.on_skin = loads_on_skin(solved.state.samples, mask, face.field());
    if (phase.seated) {
      phase.under = under_lip(input, face, mask, solved.state, gas);
      phase.seal = rim_seal(solved.state, mask, face.site_of, gas, phase.under);
      phase.leak = rim_leak(phase.seal, solved.state, mask, input.face.landmarks);
      phase.leak.mouth = mouth_leak(input, breath.pressure, gas);
      phase.leak.port = port_leak(input, breath.pressure, gas);
      phase.leak.total += phase.leak.mouth + phase.leak.port;
      mean_leak += breath.share * phase.leak.total;
    }
    phase.state = std::move(solved.state);
    phases.push_back(std::move(phase));
  }
  Estimate out{.input = input,
               .face = std::move(question.face),
               .mask = std::move(question.mask),
               .placement = trial.placement(),
               .phases = std::move(phases),
               .breath_mean_leak = mean_leak,
               .strap_tension_n = std::move(straps.tension_n),
               .strap_note = std::move(straps.note),
               .strap_place = straps.place,
               .dressing_places = {},
               .worn = {},
               .clearances = {},
               .skin = {},
               .swelling = {},
               .bands = {},
               .cautions = cautions_for(input)};
  if (question.reading == Reading::whole) read_rest(out);
  return out;
}

}  // namespace rimload
