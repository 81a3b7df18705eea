#include "fit/bands.hpp"

#include <algorithm>
#include <map>

#include "fit/breath_reading.hpp"
#include "fit/drawn_fit.hpp"
#include "fit/parts.hpp"

namespace rimload {

namespace {

BreathReading read_draw(const Estimate& estimate, const FaceModel* model,
                        const UncertainInputs& draw) {
  const DrawnFit drawn = drawn_fit(estimate, model, draw);
  Trial trial(drawn.input, drawn.face, drawn.mask);
  trial.set_straps(drawn_straps(estimate.strap_tension_n, draw));
  return read_breath(trial);
}

}  // namespace

Estimate with_bands(Estimate estimate, const BandOptions& options) {
  const auto seats = [](const PhaseEstimate& phase) { return phase.seated; };
  if (!std::all_of(estimate.phases.begin(), estimate.phases.end(), seats)) return estimate;
  const std::vector<UncertainInputs> draws = uncertain_draws(options.n_draws, options.seed);
  const std::vector<FaceModel> faces = faces_of_draws(estimate.input, draws);
  std::vector<BreathReading> readings(draws.size());
  const auto read = [&](int k) {
    const auto draw = static_cast<std::size_t>(k);
    readings[draw] = read_draw(estimate, faces.empty() ? nullptr : &faces[draw], draws[draw]);
  };
  run_parts(options.n_draws, options.n_threads, read, options.progress);

  FitBands out;
  out.n_draws = options.n_draws;
  std::map<SidedSite, std::vector<double>> sensors;
  std::vector<double> leak;
  std::vector<double> worst;
  std::vector<UncertainInputs> seated;
  int n_seals = 0;
  for (std::size_t k = 0; k < readings.size(); ++k) {
    const BreathReading& reading = readings[k];
    if (!reading.seated) continue;
    seated.push_back(draws[k]);
    n_seals += reading.seals(with_inputs(estimate.input, draws[k]));
    for (const SitePressure& site : reading.sites) {
      sensors[{site.site, site.side}].push_back(site.sensor);
    }
    leak.push_back(reading.mean_leak);
    worst.push_back(worst_contact(reading).sensor);
  }
  const auto n = static_cast<double>(options.n_draws);
  out.seated_share = static_cast<double>(seated.size()) / n;
  out.seals_share = n_seals / n;
  for (auto& [site, values] : sensors) {
    const ValueBand band = band_of(std::move(values));
    if (band.high > 0) out.sites.push_back({site, band});
  }
  if (!leak.empty()) out.leak = band_of(std::move(leak));
  out.drivers = drivers_of(seated, worst, estimate.input.cushion);
  estimate.bands = std::move(out);
  return estimate;
}

}  // namespace rimload
