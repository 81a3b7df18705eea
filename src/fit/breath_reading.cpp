#include "fit/breath_reading.hpp"

#include <algorithm>

#include "contact/told_apart.hpp"
#include "fit/under_lip.hpp"
#include "skin/load_spread.hpp"

namespace rimload {

bool BreathReading::seals(const Case& input) const {
  return seated && least_margin >= input.sealed_above - told_apart;
}

WorstContact worst_contact(const BreathReading& reading) {
  WorstContact out;
  for (const SitePressure& each : reading.sites) {
    const bool strap = is_strap_site(each.site);
    if (strap || each.site == Site::eyelid || each.sensor <= out.sensor + told_apart) continue;
    out = {each.sensor, {each.site, each.side}};
  }
  return out;
}

void add_phase(BreathReading& reading, const PhaseOfBreath& breath, const TrialPhase& phase,
               const Trial& trial) {
  const Case& input = trial.input();
  const FaceInUse& face = trial.face();
  const Mask& mask = trial.mask();
  const Gas gas = humid_gas(input.settings.oxygen_fraction);
  const UnderLip under = under_lip(input, face, mask, phase.state, gas);
  const SealSummary seal = rim_seal(phase.state, mask, face.site_of, gas, under);
  double leak = mouth_leak(input, breath.pressure, gas) + port_leak(input, breath.pressure, gas);
  for (const StationSeal& station : seal.stations) leak += station.flow;
  if (reading.leak.empty() || seal.weakest_margin < reading.least_margin - told_apart) {
    reading.least_margin = seal.weakest_margin;
    reading.weakest_site = seal.weakest_site;
  }
  reading.leak.push_back(leak);
  reading.mean_leak += breath.share * leak;
  auto sites = site_pressures(loads_on_skin(phase.state.samples, mask, face.field()), face.site_of);
  const auto under_straps = strap_pressures(phase.state.straps, mask.straps);
  sites.insert(sites.end(), under_straps.begin(), under_straps.end());
  SitePressure tube;  // in every row of a sweep, crossing or not
  if (under.tube) tube = site_of_tube(*under.tube, input.tube->side);
  if (input.tube) {
    tube.site = Site::tube;
    tube.side = input.tube->side;
    sites.push_back(tube);
  }
  if (reading.sites.empty()) {
    reading.sites = std::move(sites);
    return;
  }
  for (std::size_t k = 0; k < sites.size(); ++k) {
    SitePressure& most = reading.sites[k];
    if (sites[k].sensor > most.sensor) {
      most.sensor = sites[k].sensor;
      most.sensor_at = sites[k].sensor_at;
    }
    most.peak = std::max(most.peak, sites[k].peak);
    most.mean = std::max(most.mean, sites[k].mean);
    most.shear_peak = std::max(most.shear_peak, sites[k].shear_peak);
    most.area_over_32_mmhg = std::max(most.area_over_32_mmhg, sites[k].area_over_32_mmhg);
    most.contact_area = std::max(most.contact_area, sites[k].contact_area);
  }
}

BreathReading read_breath(Trial& trial) {
  BreathReading out;
  for (const PhaseOfBreath& breath : phases_of(trial.input().settings)) {
    const TrialPhase phase = trial.solve(breath.pressure);
    if (!phase.seated) return {};
    add_phase(out, breath, phase, trial);
  }
  out.seated = true;
  return out;
}

}  // namespace rimload
