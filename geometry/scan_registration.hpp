// Lays a scan on the reference face by named points that somebody marked on it.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/landmark.hpp"

namespace rimload {

enum class ScanUnit { mm, cm, inch, m };
/// `mm`, `cm`, `inch` or `m`.
[[nodiscard]] std::string_view name_of(ScanUnit unit);
[[nodiscard]] std::optional<ScanUnit> scan_unit_named(std::string_view name);
[[nodiscard]] double mm_in(ScanUnit unit);

/// A point marked on a scan, under the name of one of our landmarks.
struct ScanLandmark {
  std::string name;
  Side side = Side::midline;
  Vec3 position_scan = Vec3::Zero();  ///< in the scan's own unit and frame
};

/// How far a marked point lies from where the reference face, brought to size, has it.
struct LandmarkResidual {
  std::string name;
  Side side = Side::midline;
  double distance_mm = 0;
};

/// x_face = rotation mm_per_unit x_scan + shift.
struct ScanRegistration {
  ScanUnit unit = ScanUnit::mm;
  bool unit_inferred = false;
  double mm_per_unit = 1;
  Mat3 rotation = Mat3::Identity();
  Vec3 shift_mm = Vec3::Zero();
  double size = 1;  ///< of the face against the reference
  std::vector<LandmarkResidual> residuals;
  double residual_rms_mm = 0;

  [[nodiscard]] Vec3 to_face(const Vec3& position_scan) const {
    return rotation * (mm_per_unit * position_scan) + shift_mm;
  }
};

/// The similarity that lays the marked points on the reference's, by least squares [Umeyama 1991],
/// kept to its rotation and to the unit: a person's size is not fitted away. The facial frame is
/// thereby turned as the reference's is, and its origin is the marked sellion, or where the
/// reference's falls when none is marked.
///
/// A unit not given is the one in which the face comes nearest to the reference's size.
/// @param marked four or more, each name and side once, not on one line
/// @param reference the reference face's landmarks
/// @throws InputError when a name is unknown or twice, too few points are marked, they lie on one
///   line or do not fit the face (sides exchanged?), or no unit gives a face's size
[[nodiscard]] ScanRegistration register_scan(std::span<const ScanLandmark> marked,
                                             std::span<const Landmark> reference,
                                             std::optional<ScanUnit> unit);

}  // namespace rimload
