#include "leak/obstacles.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace rimload {

std::string_view name_of(BeardRegion region) {
  switch (region) {
    case BeardRegion::moustache: return "moustache";
    case BeardRegion::cheek: return "cheek";
    case BeardRegion::chin: return "chin";
    case BeardRegion::full: break;
  }
  return "full";
}

bool grows_at(BeardRegion region, Site site) {
  const bool cheek = site == Site::cheek || site == Site::mouth_corner;
  switch (region) {
    case BeardRegion::moustache: return site == Site::upper_lip;
    case BeardRegion::cheek: return cheek;
    case BeardRegion::chin: return site == Site::chin;
    case BeardRegion::full: break;
  }
  return cheek || site == Site::upper_lip || site == Site::chin;
}

std::string_view name_of(TubeKind kind) {
  return kind == TubeKind::orogastric ? "orogastric" : "nasogastric";
}

std::vector<Vec3> usual_tube_path(TubeKind kind, Side side, std::span<const Landmark> landmarks) {
  const auto at = [&](std::string_view name) {
    return find_landmark(landmarks, name, side).position_face;
  };
  if (kind == TubeKind::orogastric) {
    return {at("cheilion"), at("perioral_side"), at("cheek_low"), at("ramus")};
  }
  return {at("nostril_sill"), at("nasolabial_fold"), at("cheek_mid"), at("cheek_lateral"),
          at("tragion")};
}

namespace {

// The station and the place where a path comes nearest to the rim's crown, in space.
struct Nearest {
  std::size_t station = 0;
  double distance_mm = std::numeric_limits<double>::infinity();
};
Nearest nearest_station(const std::vector<Vec3>& path, const PhaseState& state,
                        const SampledRim& rim) {
  constexpr double step_mm = 0.5;
  Nearest out;
  for (std::size_t k = 0; k + 1 < path.size(); ++k) {
    const Vec3 way = path[k + 1] - path[k];
    const int n = std::max(1, static_cast<int>(std::ceil(way.norm() / step_mm)));
    for (int j = 0; j <= n; ++j) {
      const Vec3 here = path[k] + way * (static_cast<double>(j) / n);
      for (std::size_t i = 0; i < rim.n_stations(); ++i) {
        const Vec3& crown = state.samples[i * rim.n_across() + rim.n_across() / 2].foot;
        const double distance = (crown - here).norm();
        if (distance < out.distance_mm) out = {i, distance};
      }
    }
  }
  return out;
}

}  // namespace

std::size_t station_at_tube(const FeedingTube& tube, const PhaseState& state,
                            const SampledRim& rim) {
  return nearest_station(tube.path_face, state, rim).station;
}

std::optional<TubeCrossing> tube_crossing(const FeedingTube& tube, const PhaseState& state,
                                          const Mask& mask, const FaceField& face, const Gas& gas) {
  if (tube.through_port || tube.size_fr <= 0) return std::nullopt;
  const SampledRim& rim = mask.rim;
  const Nearest nearest = nearest_station(tube.path_face, state, rim);
  // Straight stretches between the path's points run beneath the skin by a few millimetres.
  constexpr double below_skin_mm = 6;
  const double half_lip = 0.5 * rim.section.lip_width_mm;
  if (nearest.distance_mm > half_lip + below_skin_mm) return std::nullopt;

  const std::size_t i = nearest.station;
  const std::span samples(&state.samples[i * rim.n_across()], rim.n_across());
  const RimStation& station = rim.stations[i];
  double load = 0;  // of the lip on the skin [N]
  double width = 0;
  for (std::size_t j = 0; j < samples.size(); ++j) {
    load += samples[j].pressure * samples[j].area_mm2;
    if (samples[j].pressure > 0) width += rim.cell_mm[j];
  }
  if (width == 0) return std::nullopt;  // an open station leaks by its gap
  const ContactSample& middle = samples[rim.n_across() / 2];
  const TissuePoint tissue = face.tissue.at(SkinMap::chart(middle.foot));
  const auto tissue_stiffness = [&](double contact_width) {  // per area and depth [N/mm3]
    const double ratio = face.modulus.at(contact_width / tissue.depth_mm).ratio;
    return 1 / (tissue.depth_mm / (tissue.youngs_n_mm2 * ratio) + tissue.backing_mm3_n);
  };
  const double lip = mask.lip
                         .force_per_length(state.lip_mm[static_cast<Eigen::Index>(i)],
                                           rim.section.lip_width_mm, station.stiffness_factor)
                         .slope;
  const double skin = tissue_stiffness(width) * width;
  TubeUnderLip under;
  under.diameter_mm = tube.diameter_mm();
  under.bending = mask.lip.bending_n_mm2;
  under.tension = mask.lip.hoop_tension_n;
  under.foundation = lip * skin / (lip + skin);
  under.skin_stiffness = tissue_stiffness(tube.diameter_mm()) * tube.diameter_mm();
  under.gas_share = mask.lip.gas_share;
  under.line_load =
      std::max(0.0, load / station.length_mm - under.gas_share * state.gas_pressure * width);
  under.contact_width_mm = width;
  return TubeCrossing{i, middle.foot, tube_channel(under, state.gas_pressure, gas)};
}

}  // namespace rimload
