#include <algorithm>
#include <cmath>

#include "leak/seal.hpp"

namespace rimload {

std::string_view name_of(JetDirection direction) {
  switch (direction) {
    case JetDirection::left_eye: return "left_eye";
    case JetDirection::right_eye: return "right_eye";
    case JetDirection::nose: return "nose";
    case JetDirection::jawline: return "jawline";
    case JetDirection::mouth: return "mouth";
    case JetDirection::forehead: return "forehead";
    case JetDirection::cheek: break;
  }
  return "cheek";
}

std::string_view words_for(JetDirection direction) {
  switch (direction) {
    case JetDirection::left_eye: return "towards the left eye";
    case JetDirection::right_eye: return "towards the right eye";
    case JetDirection::nose: return "along the nose";
    case JetDirection::jawline: return "along the jawline";
    case JetDirection::mouth: return "towards the mouth";
    case JetDirection::forehead: return "over the forehead";
    case JetDirection::cheek: break;
  }
  return "over the cheek";
}

bool is_at_eye(JetDirection direction) {
  return direction == JetDirection::left_eye || direction == JetDirection::right_eye;
}

namespace {

constexpr double eye_radius_mm = 16;  // a jet that passes this near the lid reaches the eye
constexpr double jet_reach_mm = 70;

// Distance from the point to the jet, as far as the jet reaches.
double distance_to_jet(const Vec3& point, const Vec3& from, const Vec3& towards) {
  const double along = std::clamp((point - from).dot(towards), 0.0, jet_reach_mm);
  return (point - from - along * towards).norm();
}

JetDirection direction_of(const Vec3& from, const Vec3& towards, Site site,
                          std::span<const Landmark> landmarks) {
  const double to_left = distance_to_jet(
      find_landmark(landmarks, "lid_front", Side::left).position_face, from, towards);
  const double to_right = distance_to_jet(
      find_landmark(landmarks, "lid_front", Side::right).position_face, from, towards);
  if (std::min(to_left, to_right) < eye_radius_mm) {
    return to_left <= to_right ? JetDirection::left_eye : JetDirection::right_eye;
  }
  switch (site) {
    case Site::nasal_bridge:
    case Site::nose_side: return JetDirection::nose;
    // Below a nasal mask, or above one that ends under the nose.
    case Site::upper_lip: return towards.y() < 0 ? JetDirection::mouth : JetDirection::nose;
    case Site::chin: return JetDirection::jawline;
    case Site::forehead: return JetDirection::forehead;
    default: break;
  }
  // Of cheek and corner of the mouth: downward from beside or below the mouth lies the jaw.
  constexpr double downward = -0.5;  // within 60 degrees of straight down
  const bool on_jaw =
      towards.y() < downward &&
      from.y() < find_landmark(landmarks, "stomion", Side::midline).position_face.y();
  return on_jaw ? JetDirection::jawline : JetDirection::cheek;
}

// So that twin leaks on the two sides of a symmetric face keep their order, left first, whatever
// rounding makes of their flows.
double steps_of(double flow) {
  constexpr double step_mm3_s = 10;  // 0.0006 L/min
  return std::round(flow / step_mm3_s);
}

// Where half of a run's flow has passed, between the feet of its stations: on the skin, where their
// mean would lie inside a round chin or nose.
Vec3 middle_of_flow(const std::vector<double>& flows, const std::vector<Vec3>& feet) {
  double half = 0;
  for (const double flow : flows) half += 0.5 * flow;
  double before = 0.5 * flows.front();  // up to the middle of a station
  for (std::size_t k = 0; k + 1 < flows.size(); ++k) {
    const double step = 0.5 * (flows[k] + flows[k + 1]);
    if (before + step >= half) {
      const double share = std::clamp((half - before) / step, 0.0, 1.0);
      return feet[k] + share * (feet[k + 1] - feet[k]);
    }
    before += step;
  }
  return feet.back();
}

}  // namespace

LeakSummary rim_leak(const SealSummary& seal, const PhaseState& state, const Mask& mask,
                     std::span<const Landmark> landmarks) {
  const SampledRim& rim = mask.rim;
  const std::size_t n = rim.n_stations();
  const std::size_t n_across = rim.n_across();
  LeakSummary out;
  const auto starts_segment = [&](std::size_t i) {
    const StationSeal& before = seal.stations[(i + n - 1) % n];
    const StationSeal& here = seal.stations[i];
    return before.flow <= 0 || before.site != here.site || before.cause != here.cause;
  };
  // Begin where a segment begins, so that none is cut in two at the apex.
  std::size_t begin = 0;
  while (begin < n && !(seal.stations[begin].flow > 0 && starts_segment(begin))) ++begin;
  if (begin == n) {
    const bool everywhere = n > 0 && seal.stations.front().flow > 0;
    if (!everywhere) return out;
    begin = 0;
  }
  std::vector<std::vector<std::size_t>> runs;
  for (std::size_t k = 0; k < n; ++k) {
    const std::size_t i = (begin + k) % n;
    if (seal.stations[i].flow <= 0) continue;
    if (runs.empty() || starts_segment(i)) runs.emplace_back();
    runs.back().push_back(i);
  }
  for (const std::vector<std::size_t>& run : runs) {
    LeakSegment segment;
    segment.site = seal.stations[run.front()].site;
    segment.cause = seal.stations[run.front()].cause;
    std::vector<double> flows;
    std::vector<Vec3> feet;
    Vec3 towards = Vec3::Zero();
    for (const std::size_t i : run) {
      const StationSeal& station = seal.stations[i];
      const ContactSample& middle = state.samples[i * n_across + n_across / 2];
      const Vec3 across = state.pose.rotation * rim.stations[i].across;
      segment.length_mm += rim.stations[i].length_mm;
      segment.gap_max_mm = std::max(segment.gap_max_mm, station.gap_mm);
      segment.flow += station.flow;
      flows.push_back(station.flow);
      feet.push_back(middle.foot);
      towards += station.flow * (across - across.dot(middle.normal) * middle.normal);
    }
    segment.at_face = middle_of_flow(flows, feet);
    segment.towards = towards.normalized();
    segment.direction =
        direction_of(segment.at_face, segment.towards, segment.site.site, landmarks);
    out.total += segment.flow;
    out.segments.push_back(segment);
  }
  std::stable_sort(out.segments.begin(), out.segments.end(),
                   [](const LeakSegment& a, const LeakSegment& b) {
                     const bool at_eye = is_at_eye(a.direction);
                     if (at_eye != is_at_eye(b.direction)) return at_eye;
                     return steps_of(a.flow) > steps_of(b.flow);
                   });
  return out;
}

}  // namespace rimload
