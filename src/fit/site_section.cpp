#include "fit/site_section.hpp"

#include <algorithm>
#include <span>

namespace rimload {

namespace {

using Station = std::span<const ContactSample>;

struct Found {
  const PhaseEstimate* phase = nullptr;
  Station samples;
  std::size_t hardest = 0;  ///< of those at the site
  double length_mm = 0;     ///< of rim
  SidedSite place;
};

Found find_station(const Estimate& estimate, Site site, std::optional<Side> side) {
  const SampledRim& rim = estimate.mask.rim;
  Found out;
  double most = 0;
  for (const PhaseEstimate& phase : estimate.phases) {
    if (!phase.seated) continue;
    for (std::size_t i = 0; i < rim.n_stations(); ++i) {
      const Station samples(&phase.state.samples[i * rim.n_across()], rim.n_across());
      for (std::size_t j = 0; j < samples.size(); ++j) {
        if (samples[j].pressure <= most) continue;
        const SidedSite place = estimate.face.site_of(samples[j].foot);
        if (place.site != site || (side && place.side != *side)) continue;
        most = samples[j].pressure;
        out = {&phase, samples, j, rim.stations[i].length_mm, place};
      }
    }
  }
  return out;
}

// Samples laid out along the skin, 0 at the hardest pressed one of the site.
std::vector<StationSample> laid_out(const Found& found, std::span<const double> cell_mm) {
  const Station samples = found.samples;
  std::vector<StationSample> out;
  double across = 0;
  double zero = 0;
  for (std::size_t j = 0; j < samples.size(); ++j) {
    if (j > 0) across += (samples[j].foot - samples[j - 1].foot).norm();
    if (j == found.hardest) zero = across;
    if (samples[j].pressure <= 0) continue;
    const Vec3 ahead = samples[std::min(j + 1, samples.size() - 1)].foot;
    const Vec3 behind = samples[j > 0 ? j - 1 : 0].foot;
    // What the skin bears is the reverse of what acts on the mask.
    const double shear = -samples[j].shear.dot((ahead - behind).normalized());
    out.push_back({across, cell_mm[j], samples[j].pressure, shear});
  }
  for (StationSample& sample : out) sample.across_mm -= zero;
  return out;
}

// The isotropic material that has the cover's moduli: M = E/(1 - nu^2) and G = E/(2 (1 + nu)) give
// G/M = (1 - nu)/2.
SectionDressing dressing_of(const CoverPoint& cover) {
  if (cover.thickness_mm <= 0) return {};
  const double across = cover.thickness_mm / cover.compliance_mm3_n;
  const double shear = cover.thickness_mm / cover.shear_compliance_mm3_n;
  const double nu = std::clamp(1 - 2 * shear / across, 0.0, 0.49);
  return {
      .thickness_mm = cover.thickness_mm, .youngs_n_mm2 = across * (1 - nu * nu), .poisson = nu};
}

}  // namespace

std::optional<SiteSection> site_section(const Estimate& estimate, Site site,
                                        std::optional<Side> side) {
  const Found found = find_station(estimate, site, side);
  if (found.phase == nullptr) return std::nullopt;
  const SkinMap& skin = estimate.face.skin;
  const Vec3& foot = found.samples[found.hardest].foot;
  const Vec2 uv = skin.closest(foot).uv;
  const TissuePoint tissue = estimate.face.tissue.at(uv);
  const CoverPoint cover = estimate.face.cover ? estimate.face.cover->at(uv) : CoverPoint{};
  SiteSection out;
  out.place = found.place;
  out.phase = found.phase->phase;
  for (const ContactSample& sample : found.samples) {
    out.line_force_n_mm += sample.pressure * sample.area_mm2 / found.length_mm;
  }
  out.tissue = {.depth_mm = tissue.depth_mm + cover.raise_mm,
                .youngs_n_mm2 = tissue.youngs_n_mm2,
                .poisson = estimate.face.modulus.poisson()};
  out.samples = laid_out(found, estimate.mask.rim.cell_mm);
  out.dressing = dressing_of(cover);
  auto answer = station_section(out.tissue, out.samples, out.dressing);
  if (!answer) return std::nullopt;
  out.answer = std::move(*answer);
  return out;
}

}  // namespace rimload
