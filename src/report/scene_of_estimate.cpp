#include "report/scene_of_estimate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "units/units.hpp"

namespace rimload {

namespace {

constexpr double rim_height_mm = 7;  // of the moulded rim drawn above the crown
constexpr double least_label_mmhg = 1;

std::string pressures_in_words(const Settings& settings) {
  if (!settings.bilevel)
    return fmt::format("CPAP {:.4g} cmH2O", units::to_cmh2o(settings.expiratory));
  return fmt::format("inspiratory {:.4g}, expiratory {:.4g} cmH2O",
                     units::to_cmh2o(settings.inspiratory), units::to_cmh2o(settings.expiratory));
}

void add_stations(const Estimate& estimate, Scene& scene) {
  const PhaseEstimate& pressed = estimate.phases.front();
  const PhaseEstimate& leaking = estimate.phases.back();
  const SampledRim& rim = estimate.mask.rim;
  for (std::size_t i = 0; i < rim.n_stations(); ++i) {
    SceneStation station;
    for (std::size_t j = 0; j < rim.n_across(); ++j) {
      const ContactSample& sample = pressed.on_skin[i * rim.n_across() + j];
      station.points.push_back(sample.foot);
      station.pressure_mmhg.push_back(pressed.seated ? units::to_mmhg(sample.pressure) : 0);
    }
    const RimStation& geometry = rim.stations[i];
    station.rim = pressed.state.pose * (geometry.crown + rim_height_mm * geometry.axis);
    if (leaking.seated) {
      const StationSeal& seal = leaking.seal.stations[i];
      station.open = seal.openness > 0;  // hair and tube are drawn as such
      station.gap_mm = seal.gap_mm;
    }
    scene.stations.push_back(std::move(station));
  }
  std::vector<Vec3> points;
  std::vector<double> pressure;
  int row = -1;
  const auto flush = [&] {
    if (points.empty()) return;
    scene.pad_points.push_back(std::exchange(points, {}));
    scene.pad_pressure_mmhg.push_back(std::exchange(pressure, {}));
  };
  for (const ContactSample& sample : pressed.on_skin) {
    if (sample.part != Part::pad) continue;
    if (sample.station != row) flush();
    row = sample.station;
    points.push_back(sample.foot);
    pressure.push_back(pressed.seated ? units::to_mmhg(sample.pressure) : 0);
  }
  flush();
}

// Drawn hairs of the beard: a sign of where it grows, not of how dense it is.
void add_hair(const Estimate& estimate, Scene& scene) {
  const Beard& beard = *estimate.input.beard;
  constexpr double spacing_mm = 3.5;
  const double length = std::clamp(0.3 * beard.hair.length_mm, 1.0, 3.0);
  const SkinMap& skin = estimate.face.skin;
  constexpr double half_width_mm = 110;
  const double chin_end =
      find_landmark(estimate.input.face.landmarks, "menton", Side::midline).position_face.y();
  int row = 0;
  for (double v = chin_end + spacing_mm; v < 0; v += spacing_mm, ++row) {
    // Every other row is set off by half a step.
    for (double u = -half_width_mm + 0.5 * spacing_mm * (row % 2); u < half_width_mm;
         u += spacing_mm) {
      const Vec3 root = skin.point({u, v});
      if (!grows_at(beard.region, estimate.face.site_of(root).site)) continue;
      scene.hair.emplace_back(root, skin.point({u, v - length}));
    }
  }
}

void add_what_breaks_the_seal(const Estimate& estimate, Scene& scene) {
  constexpr std::size_t most_jets = 4;
  const Case& input = estimate.input;
  if (input.beard) add_hair(estimate, scene);
  if (input.tube) scene.tube = SceneTube{input.tube->path_face, input.tube->diameter_mm()};
  const PhaseEstimate& leaking = estimate.phases.back();
  for (const LeakSegment& segment : leaking.leak.segments) {
    scene.jets.push_back({segment.at_face, segment.towards, units::to_l_per_min(segment.flow)});
  }
  std::stable_sort(scene.jets.begin(), scene.jets.end(), [](const SceneJet& a, const SceneJet& b) {
    return a.flow_l_min > b.flow_l_min;
  });
  if (scene.jets.size() > most_jets) scene.jets.resize(most_jets);
}

}  // namespace

Scene scene_of(const Estimate& estimate) {
  const PhaseEstimate& pressed = estimate.phases.front();
  Scene scene;
  scene.skin = &estimate.face.skin;
  scene.chin_end_mm =
      find_landmark(estimate.input.face.landmarks, "menton", Side::midline).position_face.y();
  add_stations(estimate, scene);
  for (std::size_t k = 0; k < pressed.state.straps.size(); ++k) {
    const Strap& strap = estimate.mask.straps[k];
    scene.straps.push_back(
        {{pressed.state.straps[k].anchor_face, strap.exit_face}, strap.width_mm});
  }
  for (const SitePressure& site : pressed.sites) {
    const double mmhg = units::to_mmhg(site.sensor);
    if (site.contact_area <= 0 || mmhg < least_label_mmhg || site.site == Site::eyelid) continue;
    scene.labels.push_back(
        {std::string(words_for(site.site)), fmt::format("{:.0f} mmHg", mmhg), site.sensor_at});
  }
  for (const DressingPlace& place : estimate.dressing_places) {
    scene.patches.push_back({place.outline, fmt::format("dressing {:.0f} x {:.0f} mm",
                                                        place.length_mm, place.width_mm)});
  }
  add_what_breaks_the_seal(estimate, scene);
  const Case& input = estimate.input;
  scene.title = input.name;
  scene.subtitle = fmt::format("Face '{}', {} {}, {}. {}", input.face.name, input.cushion.name,
                               input.cushion.size, pressures_in_words(input.settings),
                               !pressed.seated ? "The mask does not seat."
                               : input.settings.bilevel
                                   ? "Pressure on the skin in expiration, gaps in inspiration."
                                   : "Pressure on the skin and gaps.");
  scene.caution =
      "An estimate for planning and teaching, not a medical device. Local policy and licensed "
      "practice come first.";
  return scene;
}

}  // namespace rimload
