// A face model drawn from a scan.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "geometry/face_model.hpp"
#include "geometry/scan_mesh.hpp"
#include "geometry/scan_radius.hpp"
#include "geometry/scan_registration.hpp"

namespace rimload {

/// How near a face comes to the scan in one region, and how much of it the scan has.
struct ScanReading {
  double landmarks_rms_mm = 0;  ///< scan to the skin through the landmarks, what an estimate uses
  double radius_rms_mm = 0;     ///< scan to the resampled radius, which follows it everywhere
  double hole_share = 0;        ///< of the region's nodes without any scan
  double rejected_share = 0;    ///< of them with something too far off to be skin
};

/// The face that a scan shows.
struct ScannedFace {
  FaceModel face;                    ///< not symmetric; tissue depths are the reference's
  ScanRadius resampled;              ///< for a `SkinMap` that keeps all of the scan's shape
  ScanRegistration registration;     ///< into the face's frame
  ScanReading seal;                  ///< where rims go
  ScanReading whole;                 ///< `face_region`
  std::vector<std::string> carried;  ///< landmarks that the scan lacks, placed by the others
  bool inside_out = false;           ///< the scan's triangles faced inwards
  bool settled = false;              ///< the landmarks came to rest
  std::vector<std::string> remarks;  ///< all of this in words, for the reader of a result
};

/// Draws a face from a scan: registration by the marked points, landmarks carried onto the scan,
/// the scan resampled about the skin through them, and the landmarks set on what was resampled.
///
/// The facial frame is turned as the reference's is, by least squares over the landmarks that the
/// scan has [Umeyama 1991]; its origin is the sellion found. Asymmetry is kept. A scan shows skin,
/// not bone: tissue depths are the reference's, at every landmark. Hair, a beard and closed lids
/// are skin to it where they lie near the face.
/// @param marked as in `register_scan`
/// @param reference a face that has the landmarks of `face_region` and of `seal_landmarks`
/// @param unit of the scan, inferred from the marked points if none
/// @throws InputError as `register_scan` does, and when the scan has no skin near the marked points
[[nodiscard]] ScannedFace face_of_scan(const ScanMesh& scan, std::span<const ScanLandmark> marked,
                                       std::span<const Landmark> reference,
                                       std::optional<ScanUnit> unit);

}  // namespace rimload
