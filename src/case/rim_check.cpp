#include "case/rim_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace rimload {

namespace {

constexpr double midline_tolerance_mm = 1e-9;
constexpr double least_spacing_mm = 2;
constexpr double least_height_mm = 20;

// Angle round the middle of the opening, 0 at the apex, pi at the lowest point.
double angle_round(const RimControl& point, double middle_y_mm) {
  return std::atan2(point.position_mask.x(), point.position_mask.y() - middle_y_mm);
}

}  // namespace

std::vector<RimFault> half_rim_faults(const std::vector<RimControl>& half) {
  std::vector<RimFault> faults;
  const std::size_t last = half.size() - 1;
  const auto on_midline = [&](std::size_t k) { return k == 0 || k == last; };
  for (std::size_t k = 0; k <= last; ++k) {
    const Vec3& at = half[k].position_mask;
    const Vec3& axis = half[k].axis_mask;
    if (on_midline(k) && std::abs(at.x()) > midline_tolerance_mm) {
      faults.push_back({k, fmt::format("the first and last point lie on the midline, x = 0, not "
                                       "{} mm",
                                       at.x())});
    }
    if (!on_midline(k) && at.x() <= 0) {
      faults.push_back({k, fmt::format("points between lie to the wearer's left, x above 0, not "
                                       "{} mm",
                                       at.x())});
    }
    if (k == 0 && at.norm() > midline_tolerance_mm) {
      faults.push_back({k, "the first point is the origin of the mask frame: [0, 0, 0]"});
    }
    if (axis.norm() < 0.1 || axis.z() < 0.1 * axis.norm()) {
      faults.push_back({k, fmt::format("the axis [{}, {}, {}] does not point out of the face, "
                                       "z well above 0",
                                       axis.x(), axis.y(), axis.z())});
    } else if (on_midline(k) && std::abs(axis.x()) > midline_tolerance_mm) {
      faults.push_back({k, fmt::format("on the midline the axis has x = 0, not {}", axis.x())});
    }
    if (k > 0 && (at - half[k - 1].position_mask).norm() < least_spacing_mm) {
      faults.push_back({k, fmt::format("{:.2f} mm from the point before; at least {} mm needed",
                                       (at - half[k - 1].position_mask).norm(), least_spacing_mm)});
    }
  }
  const double height = half[0].position_mask.y() - half[last].position_mask.y();
  if (height < least_height_mm) {
    faults.push_back({last, fmt::format("only {} mm below the apex; at least {} mm needed", height,
                                        least_height_mm)});
  }
  if (!faults.empty()) return faults;
  const double middle = half[0].position_mask.y() - 0.5 * height;
  for (std::size_t k = 1; k <= last; ++k) {
    if (angle_round(half[k], middle) <= angle_round(half[k - 1], middle)) {
      faults.push_back({k,
                        "lies before the point above it on the way round the opening; give the "
                        "points in order from the apex down the left side"});
    }
  }
  return faults;
}

Rim whole_rim(const std::vector<RimControl>& half, RimSection section) {
  Rim rim{half, section};
  for (std::size_t k = half.size() - 2; k > 0; --k) {
    RimControl twin = half[k];
    twin.position_mask.x() = -twin.position_mask.x();
    twin.axis_mask.x() = -twin.axis_mask.x();
    rim.controls.push_back(twin);
  }
  return rim;
}

std::optional<RimFault> folded_lip(const Rim& rim, std::size_t n_half) {
  const SampledRim sampled = sample_rim(rim, {.n_across = 3});
  const std::size_t n = sampled.n_stations();
  double sharpest = 0;
  Vec3 where = Vec3::Zero();
  for (std::size_t i = 0; i < n; ++i) {
    const RimStation& here = sampled.stations[i];
    const Vec3 turn =
        sampled.stations[(i + 1) % n].tangent - sampled.stations[(i + n - 1) % n].tangent;
    const double bend = std::abs(turn.dot(here.across)) / (2 * here.length_mm);
    if (bend > sharpest) {
      sharpest = bend;
      where = here.crown;
    }
  }
  const double half_width = 0.5 * rim.section.lip_width_mm;
  if (sharpest * half_width < 1) return std::nullopt;
  where.x() = std::abs(where.x());
  const auto nearer = [&](const RimControl& a, const RimControl& b) {
    return (a.position_mask - where).squaredNorm() < (b.position_mask - where).squaredNorm();
  };
  const auto end = rim.controls.begin() + static_cast<std::ptrdiff_t>(n_half);
  const auto nearest = std::min_element(rim.controls.begin(), end, nearer);
  return RimFault{static_cast<std::size_t>(nearest - rim.controls.begin()),
                  fmt::format("the rim bends here with a radius of {:.1f} mm, below half the lip's "
                              "width, {} mm: its edge would fold",
                              1 / sharpest, half_width)};
}

}  // namespace rimload
