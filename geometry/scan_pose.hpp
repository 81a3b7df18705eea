// Finds where on a scan a face is, without any point marked on it.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "geometry/landmark.hpp"
#include "geometry/mesh.hpp"
#include "geometry/scan_registration.hpp"

namespace rimload {

/// A face model laid on a scan, brought to the scan's size and no further.
struct ScanPoseFound {
  ScanUnit unit = ScanUnit::mm;
  double size = 1;                   ///< of the face against the reference
  Mat3 rotation = Mat3::Identity();  ///< from the facial frame into the scan's
  Vec3 sellion_scan = Vec3::Zero();  ///< the model's, in the scan's own unit
  bool inside_out = false;           ///< the scan's triangles face inwards
  double rms_mm = 0;                 ///< model's landmarks to scan, each at most 12 mm [mm]
  double met_share = 0;  ///< of the landmarks with skin within 8 mm that faces as theirs

  /// x_scan = (size rotation x_face) / mm_per_unit + sellion_scan.
  [[nodiscard]] Vec3 to_scan(const Vec3& position_face) const;
};

/// Lays the reference face on a scan of unknown pose: places that stand out of their surroundings
/// as much as the reference's nose does, most alike first, each tried in 24 turns about the
/// direction in which it stands out; the best turns are refined by iterated closest points,
/// point to plane, over turn, shift and size [Besl & McKay 1992; Chen & Medioni 1992; both from
/// memory]. The pose with the least `rms_mm` is given.
///
/// Whether it shows a face is for the caller to judge by `rms_mm` and `met_share`.
/// @param scan in its own unit and frame, consistently wound
/// @param unit tried alone; else every unit in which the scan is of the size of a face to a body
/// @return nothing when no place stands out like a nose, in any unit tried
[[nodiscard]] std::optional<ScanPoseFound> find_face_pose(const TriangleMesh& scan,
                                                          std::span<const Landmark> reference,
                                                          std::optional<ScanUnit> unit);

}  // namespace rimload
