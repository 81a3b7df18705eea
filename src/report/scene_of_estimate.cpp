#include "report/scene_of_estimate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>
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

// Lines over the chart, 45 degrees steep, as far as they lie in the site.
std::vector<std::vector<Vec3>> hatch_of(const SidedSite& site, const FaceInUse& face) {
  constexpr double half_width_mm = 130;
  constexpr double bottom_mm = -130;
  constexpr double top_mm = 60;
  constexpr double step_mm = 1;
  constexpr double apart_mm = 6;  // along u
  constexpr double least_mm = 2;
  std::vector<std::vector<Vec3>> out;
  for (double from = -half_width_mm - (top_mm - bottom_mm); from < half_width_mm;
       from += apart_mm) {
    std::vector<Vec3> line;
    for (double up = 0; up <= top_mm - bottom_mm; up += step_mm) {
      const Vec2 uv(from + up, bottom_mm + up);
      if (std::abs(uv.x()) < half_width_mm) line.push_back(face.skin.point(uv));
    }
    const std::vector<SidedSite> sites = face.site_of.along(line);
    std::vector<Vec3> piece;
    for (std::size_t k = 0; k <= line.size(); ++k) {
      if (k < line.size() && sites[k] == site) {
        piece.push_back(line[k]);
      } else if (static_cast<double>(piece.size()) * step_mm > least_mm) {
        out.push_back(std::exchange(piece, {}));
      } else {
        piece.clear();
      }
    }
  }
  return out;
}

// Sites that no landmark marks, such as the top of the ear, are in the cautions alone.
void add_injuries(const Estimate& estimate, Scene& scene) {
  for (const SidedSite& site : estimate.input.safety.injured_sites) {
    SceneInjury injury{hatch_of(site, estimate.face),
                       fmt::format("injured: {}", words_for(site.site))};
    if (!injury.hatch.empty()) scene.injuries.push_back(std::move(injury));
  }
  // Skin comes first: it is what the picture shows.
  for (const bool skin : {true, false}) {
    for (const Caution& caution : estimate.cautions) {
      if (caution.stop && (caution.key == "injured_skin") == skin) {
        scene.stops.push_back(caution.text);
      }
    }
  }
}

// From the nearest part of the rim to where a strap begins outside it, as seen from the front;
// none where a strap begins on the mask.
std::vector<Vec3> frame_arm(const std::vector<SceneStation>& stations, const Vec3& anchor) {
  constexpr double least_mm = 10;
  if (stations.empty()) return {};
  Vec3 middle = Vec3::Zero();
  for (const SceneStation& station : stations) middle += station.rim;
  middle /= static_cast<double>(stations.size());
  const auto distance = [&](const SceneStation& station) {
    return (station.rim - anchor).head<2>().norm();
  };
  const Vec3& rim = std::min_element(stations.begin(), stations.end(),
                                     [&](const SceneStation& a, const SceneStation& b) {
                                       return distance(a) < distance(b);
                                     })
                        ->rim;
  const Vec2 outwards = (anchor - rim).head<2>();
  if (outwards.norm() < least_mm || outwards.dot((rim - middle).head<2>()) < 0) return {};
  return {rim, anchor};
}

std::string jet_label(double flow, std::string_view where) {
  constexpr double least_l_min = 0.1;
  const double l_min = units::to_l_per_min(flow);
  return l_min < least_l_min ? fmt::format("leak under {} L/min{}", least_l_min, where)
                             : fmt::format("leak {:.1f} L/min{}", l_min, where);
}

// Every jet at an eye or beside a tube, and of the others the largest.
void add_rim_jets(const LeakSummary& leak, Scene& scene) {
  constexpr int most_others = 4;
  int n_others = 0;
  for (const LeakSegment& segment : leak.segments) {
    std::string_view where;
    if (is_at_eye(segment.direction)) {
      where =
          segment.direction == JetDirection::left_eye ? " to the left eye" : " to the right eye";
    } else if (segment.cause == LeakCause::tube) {
      where = " beside the tube";
    } else if (++n_others > most_others) {
      continue;
    }
    scene.jets.push_back({segment.at_face, segment.towards, units::to_l_per_min(segment.flow),
                          jet_label(segment.flow, where)});
  }
}

void add_mouth_jet(const Estimate& estimate, double flow, Scene& scene) {
  const SkinMap& skin = estimate.face.skin;
  const SkinPoint lips = skin.closest(
      find_landmark(estimate.input.face.landmarks, "stomion", Side::midline).position_face);
  scene.jets.push_back(
      {lips.foot, lips.normal, units::to_l_per_min(flow), jet_label(flow, " out of the mouth")});
}

// Where the tube passes the rim, for want of the port's own place.
void add_port_jet(const Estimate& estimate, const PhaseEstimate& phase, Scene& scene) {
  const SampledRim& rim = estimate.mask.rim;
  const std::size_t i = station_at_tube(*estimate.input.tube, phase.state, rim);
  const Vec3 across = phase.state.pose.rotation * rim.stations[i].across;
  const Vec3& foot = phase.state.samples[i * rim.n_across() + rim.n_across() / 2].foot;
  scene.jets.push_back({foot, across, units::to_l_per_min(phase.leak.port),
                        jet_label(phase.leak.port, " at the tube\u2019s port")});
}

void add_what_breaks_the_seal(const Estimate& estimate, Scene& scene) {
  const Case& input = estimate.input;
  if (input.beard) add_hair(estimate, scene);
  if (input.tube) scene.tube = SceneTube{input.tube->path_face, input.tube->diameter_mm()};
  const PhaseEstimate& leaking = estimate.phases.back();
  if (leaking.leak.mouth > 0) add_mouth_jet(estimate, leaking.leak.mouth, scene);
  add_rim_jets(leaking.leak, scene);
  if (leaking.leak.port > 0) add_port_jet(estimate, leaking, scene);
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
    const Vec3& anchor = pressed.state.straps[k].anchor_face;
    scene.straps.push_back(
        {{anchor, strap.exit_face}, strap.width_mm, frame_arm(scene.stations, anchor)});
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
  add_injuries(estimate, scene);
  for (const WornPiece& piece : estimate.worn) {
    scene.worn.push_back({piece.place.outline, piece.dressing.thickness_mm});
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
