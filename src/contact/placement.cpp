#include <algorithm>
#include <cmath>
#include <limits>

#include "contact/mask_on_face.hpp"

namespace rimload {

namespace {
constexpr double depth_past_touch_mm = 0.5;
constexpr double pitch_limit_rad = 0.6;
}  // namespace

// Least signed distance of the samples. Distances change by no more than the way gone, so a sample
// known to be farther than the least one found is left alone.
double MaskOnFace::least_distance(const Pose& pose, Gaps& gaps) const {
  const double way = (pose.translation_mm - gaps.pose.translation_mm).norm() +
                     gaps.reach_mm * (pose.rotation - gaps.pose.rotation).norm();
  gaps.pose = pose;
  const auto look = [&](std::size_t k) {
    return face_.skin.closest(pose * local_[k].position_mask).distance;
  };
  double least = look(gaps.nearest);
  for (std::size_t k = 0; k < local_.size(); ++k) {
    gaps.at_least_mm[k] -= way;
    if (gaps.at_least_mm[k] > least) continue;
    gaps.at_least_mm[k] = look(k);
    if (gaps.at_least_mm[k] < least) {
      least = gaps.at_least_mm[k];
      gaps.nearest = k;
    }
  }
  return least;
}

Pose MaskOnFace::placement(const PlacementOffset& offset) const {
  const SampledRim& rim = mask_.rim;
  const auto lowest = std::min_element(
      rim.stations.begin(), rim.stations.end(),
      [](const RimStation& a, const RimStation& b) { return a.crown.y() < b.crown.y(); });
  const auto at = [&](double z, double pitch) {
    Pose pose;
    pose.translation_mm = {0, -mask_.apex_below_sellion_mm, z};
    pose.rotation = rotation_from_vector({pitch, 0, 0});
    return pose;
  };
  const auto gap_difference = [&](double z, double pitch) {
    const Pose pose = at(z, pitch);
    return face_.skin.closest(pose * rim.stations.front().crown).distance -
           face_.skin.closest(pose * lowest->crown).distance;
  };
  // Secant on the pitch at fixed z.
  const auto level = [&](double z, double pitch) {
    double before = pitch - 0.02;
    double value_before = gap_difference(z, before);
    for (int step = 0; step < 20; ++step) {
      const double value = gap_difference(z, pitch);
      if (std::abs(value) < 1e-9 || value == value_before) break;
      const double next = pitch - value * (pitch - before) / (value - value_before);
      before = pitch;
      value_before = value;
      pitch = std::clamp(next, -pitch_limit_rad, pitch_limit_rad);
    }
    return pitch;
  };
  Gaps gaps;
  gaps.at_least_mm.assign(local_.size(), -std::numeric_limits<double>::infinity());
  for (const LocalSample& sample : local_) {
    gaps.reach_mm = std::max(gaps.reach_mm, sample.position_mask.norm());
  }
  // Move along z until the least distance is the wanted one. Each step of the remaining distance
  // can't overshoot by more than the skin's slope allows.
  const auto advance = [&](double z, double pitch) {
    double z_before = z;
    double value_before = 0;
    for (int step = 0; step < 40; ++step) {
      const double value = least_distance(at(z, pitch), gaps) + depth_past_touch_mm;
      if (std::abs(value) < 1e-10) break;
      double next = z - value;
      if (step > 0 && value != value_before) {
        const double secant = z - value * (z - z_before) / (value - value_before);
        if (std::abs(secant - z) < 4 * std::abs(value) + 1e-6) next = secant;
      }
      z_before = z;
      value_before = value;
      z = next;
    }
    return z;
  };
  double pitch = 0;
  double z = front_z(face_.skin, 0, -mask_.apex_below_sellion_mm) + 10;
  for (int round = 0; round < 12; ++round) {
    const double z_new = advance(z, pitch);
    const double pitch_new = level(z_new, pitch);
    const double change = std::abs(z_new - z) + 60 * std::abs(pitch_new - pitch);
    z = z_new;
    pitch = pitch_new;
    if (change < 1e-8) break;
  }
  const Vec3 about = reference_mask_;
  return at(z, pitch).moved(offset.shift_mm, offset.turn_rad, about);
}

}  // namespace rimload
