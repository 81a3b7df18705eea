#include "leak/seal.hpp"

#include <algorithm>
#include <array>
#include <limits>

#include "contact/told_apart.hpp"
#include "leak/seal_law.hpp"

namespace rimload {

std::string_view name_of(LeakCause cause) {
  switch (cause) {
    case LeakCause::beard: return "beard";
    case LeakCause::tube: return "tube";
    case LeakCause::fit: break;
  }
  return "fit";
}

namespace {

// Through hair under the samples that touch, in series from the inner to the outer edge [mm2/s].
// Gas in the pores carries its share of the traction: half the gas pressure on the mean.
double flow_through_beard(const Hair& hair, std::span<const ContactSample> samples,
                          std::span<const double> cell_mm, double gas_pressure, const Gas& gas) {
  std::vector<BedPart> parts;
  for (std::size_t j = 0; j < samples.size(); ++j) {
    if (samples[j].pressure <= 0) continue;
    parts.push_back({std::max(0.0, samples[j].pressure - 0.5 * gas_pressure), cell_mm[j]});
  }
  return bed_flow(hair, parts, gas_pressure, gas);
}

}  // namespace

SealSummary rim_seal(const PhaseState& state, const Mask& mask, const SiteFinder& site_of,
                     const Gas& gas, const UnderLip& under) {
  const SealLaw& law = seal_law();
  const SampledRim& rim = mask.rim;
  const std::size_t n_across = rim.n_across();
  SealSummary out;
  out.weakest_margin = std::numeric_limits<double>::infinity();
  std::vector<SlotPart> parts(n_across);
  double sealed_length = 0;
  double least_reserve = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < rim.n_stations(); ++i) {
    const std::span samples(&state.samples[i * n_across], n_across);
    const auto pressed = std::max_element(
        samples.begin(), samples.end(),
        [](const ContactSample& a, const ContactSample& b) { return a.pressure < b.pressure; });
    const auto nearest = std::min_element(
        samples.begin(), samples.end(),
        [](const ContactSample& a, const ContactSample& b) { return a.gap_mm < b.gap_mm; });
    const double stiffness = mask.lip.stiffness_n_mm3 * rim.stations[i].stiffness_factor;
    StationSeal station;
    station.margin = pressed->pressure - state.gas_pressure;
    station.least_gap_mm = std::max(0.0, nearest->gap_mm);
    station.openness = openness(station.margin, law);
    station.site = site_of(nearest->foot);
    const double held = std::max(pressed->pressure, mask.lip.gas_share * state.gas_pressure);
    const double lift =
        station.openness * (state.gas_pressure + law.sealed_above - held) / stiffness;
    if (station.openness > 0) {
      for (std::size_t j = 0; j < n_across; ++j) {
        parts[j] = {std::max(0.0, samples[j].gap_mm) + lift, rim.cell_mm[j]};
      }
      station.gap_mm = station.least_gap_mm + lift;
      station.flow =
          rim.stations[i].length_mm * slot_flow(parts, state.gas_pressure, gas, law.slot_loss);
    } else {
      sealed_length += rim.stations[i].length_mm;
    }
    if (under.beard && grows_at(under.beard->region, station.site.site)) {
      const double bed =
          rim.stations[i].length_mm *
          flow_through_beard(under.beard->hair, samples, rim.cell_mm, state.gas_pressure, gas);
      if (bed > station.flow) station.cause = LeakCause::beard;
      station.flow += bed;
    }
    // Among stations that do not touch, the widest gap is the weakest.
    const double reserve = station.margin - stiffness * station.least_gap_mm;
    if (reserve < least_reserve - told_apart) {
      least_reserve = reserve;
      out.weakest_station = i;
    }
    out.stations.push_back(station);
  }
  if (under.tube) {
    StationSeal& station = out.stations[under.tube->station];
    if (under.tube->channel.flow > station.flow) station.cause = LeakCause::tube;
    station.flow += under.tube->channel.flow;
  }
  out.sealed_fraction = sealed_length / rim.perimeter_mm;
  out.weakest_margin = out.stations[out.weakest_station].margin;
  out.weakest_site = out.stations[out.weakest_station].site;
  return out;
}

std::vector<SidedSite> weakest_sites(const SealSummary& seal) {
  const StationSeal& weakest = seal.stations[seal.weakest_station];
  const SidedSite twin{weakest.site.site, mirrored(weakest.site.side)};
  constexpr double same_gap_mm = 1e-4;
  const bool both =
      twin != weakest.site &&
      std::any_of(seal.stations.begin(), seal.stations.end(), [&](const StationSeal& each) {
        return each.site == twin && each.margin <= weakest.margin + told_apart &&
               each.least_gap_mm >= weakest.least_gap_mm - same_gap_mm;
      });
  if (both) return {weakest.site, twin};
  return {weakest.site};
}

}  // namespace rimload
