#include "geometry/scan_registration.hpp"

#include <fmt/format.h>
#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>

#include "geometry/scan_limits.hpp"
#include "geometry/similarity.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

constexpr std::array all_units{ScanUnit::mm, ScanUnit::cm, ScanUnit::inch, ScanUnit::m};

std::string called(const ScanLandmark& mark) {
  return mark.name + " (" + std::string(name_of(mark.side)) + ")";
}

[[noreturn]] void refuse(const std::string& message) {
  throw InputError("", "/landmarks", message);
}

// The reference's points under the marked names, a column each.
Eigen::Matrix3Xd targets_of(std::span<const ScanLandmark> marked,
                            std::span<const Landmark> reference) {
  Eigen::Matrix3Xd out(3, static_cast<Eigen::Index>(marked.size()));
  for (std::size_t k = 0; k < marked.size(); ++k) {
    for (std::size_t other = 0; other < k; ++other) {
      if (marked[other].name == marked[k].name && marked[other].side == marked[k].side) {
        refuse(called(marked[k]) + " is marked twice");
      }
    }
    if (!marked[k].position_scan.allFinite()) refuse(called(marked[k]) + " is not a finite point");
    out.col(static_cast<Eigen::Index>(k)) =
        find_landmark(reference, marked[k].name, marked[k].side).position_face;
  }
  return out;
}

// Of the extent along the longest direction, that along the next.
double breadth(const Eigen::Matrix3Xd& points) {
  const Eigen::Matrix3Xd from_mean = points.colwise() - points.rowwise().mean();
  const Mat3 spread = from_mean * from_mean.transpose();
  const Vec3 squares = Eigen::SelfAdjointEigenSolver<Mat3>(spread).eigenvalues();  // rising
  return squares[2] > 0 ? std::sqrt(std::max(0.0, squares[1]) / squares[2]) : 0;
}

// The reference over the scan's size in each unit: 1 when the face is of the reference's size.
ScanUnit unit_of(double mm_per_unit, std::optional<ScanUnit> given) {
  const auto misfit = [&](ScanUnit unit) { return std::abs(std::log(mm_per_unit / mm_in(unit))); };
  const ScanUnit nearest =
      *std::min_element(all_units.begin(), all_units.end(),
                        [&](ScanUnit a, ScanUnit b) { return misfit(a) < misfit(b); });
  const double most = std::log(scan_limits().size_factor);
  const ScanUnit unit = given.value_or(nearest);
  if (misfit(unit) <= most) return unit;
  const std::string size = fmt::format("in {} the face is {:.3g} times as large as the reference",
                                       name_of(unit), mm_in(unit) / mm_per_unit);
  if (given && misfit(nearest) <= most) {
    throw InputError("", "/unit",
                     fmt::format("{}; in {} it is {:.3g} times", size, name_of(nearest),
                                 mm_in(nearest) / mm_per_unit));
  }
  throw InputError("", given ? "/unit" : "/landmarks",
                   size +
                       ", and no other unit (mm, cm, inch, m) makes it one; is the scan to "
                       "scale, and are the points marked on the face?");
}

std::vector<ScanLandmark> sides_exchanged(std::span<const ScanLandmark> marked) {
  std::vector<ScanLandmark> out(marked.begin(), marked.end());
  for (ScanLandmark& each : out) each.side = mirrored(each.side);
  return out;
}

}  // namespace

std::string_view name_of(ScanUnit unit) {
  switch (unit) {
    case ScanUnit::cm: return "cm";
    case ScanUnit::inch: return "inch";
    case ScanUnit::m: return "m";
    case ScanUnit::mm: break;
  }
  return "mm";
}

std::optional<ScanUnit> scan_unit_named(std::string_view name) {
  for (const ScanUnit unit : all_units) {
    if (name_of(unit) == name) return unit;
  }
  return std::nullopt;
}

double mm_in(ScanUnit unit) {
  switch (unit) {
    case ScanUnit::cm: return 10;
    case ScanUnit::inch: return 25.4;
    case ScanUnit::m: return 1000;
    case ScanUnit::mm: break;
  }
  return 1;
}

ScanRegistration register_scan(std::span<const ScanLandmark> marked,
                               std::span<const Landmark> reference, std::optional<ScanUnit> unit) {
  constexpr std::size_t fewest = 4;
  constexpr double narrowest = 0.1;  // of the points' spread across against along: a convention
  if (marked.size() < fewest) {
    refuse(fmt::format("{} points are marked; four or more lay a scan on the face", marked.size()));
  }
  const Eigen::Matrix3Xd to = targets_of(marked, reference);
  Eigen::Matrix3Xd from(3, to.cols());
  for (Eigen::Index k = 0; k < from.cols(); ++k) {
    from.col(k) = marked[static_cast<std::size_t>(k)].position_scan;
  }
  if (breadth(from) < narrowest || breadth(to) < narrowest) {
    refuse("the marked points lie on one line, or nearly; mark points on both sides of the face");
  }
  const Similarity laid = similarity(from, to);
  ScanRegistration out;
  out.residuals.reserve(marked.size());
  Eigen::Index worst = 0;
  for (Eigen::Index k = 0; k < from.cols(); ++k) {
    const Vec3 miss = laid.scale * (laid.rotation * from.col(k)) + laid.shift - to.col(k);
    const ScanLandmark& mark = marked[static_cast<std::size_t>(k)];
    out.residuals.push_back({mark.name, mark.side, miss.norm()});
    if (miss.norm() > out.residuals[static_cast<std::size_t>(worst)].distance_mm) worst = k;
  }
  out.residual_rms_mm = laid.rms_mm;
  const LandmarkResidual& farthest = out.residuals[static_cast<std::size_t>(worst)];
  if (farthest.distance_mm > scan_limits().marked_point_refused_mm) {
    const Similarity other = similarity(from, targets_of(sides_exchanged(marked), reference));
    std::string message =
        fmt::format("{} lies {:.0f} mm from where the other points have it",
                    called(marked[static_cast<std::size_t>(worst)]), farthest.distance_mm);
    if (other.rms_mm < 0.5 * laid.rms_mm) {
      message += "; left and right are the wearer's: they seem to be exchanged";
    }
    refuse(message);
  }
  out.unit_inferred = !unit.has_value();
  out.unit = unit_of(laid.scale, unit);
  out.mm_per_unit = mm_in(out.unit);
  out.size = out.mm_per_unit / laid.scale;
  out.rotation = laid.rotation;
  // The reference's sellion is its origin.
  Vec3 sellion = laid.rotation.transpose() * (-laid.shift) / laid.scale;
  for (const ScanLandmark& mark : marked) {
    if (mark.name == "sellion") sellion = mark.position_scan;
  }
  out.shift_mm = -out.mm_per_unit * (out.rotation * sellion);
  return out;
}

}  // namespace rimload
