// Carries the landmarks of a face onto a scan.
#pragma once

#include <span>
#include <vector>

#include "geometry/landmark.hpp"
#include "geometry/scan_tree.hpp"

namespace rimload {

/// A face whose landmarks lie on a scan where the scan has skin.
struct LandmarksOnScan {
  std::vector<Landmark> landmarks;  ///< facial frame; tissue depths are the start's
  std::vector<bool> met;            ///< false: nothing near it on the scan, carried by the others
  int iterations = 0;
  bool settled = false;  ///< false: still moving after the last iteration
};

/// The most likely face of the process about `start` (`morph.hpp`, and each landmark a little of
/// its own) of which the marked points are readings, and of which every landmark lies in the plane
/// n (x - p) = 0: p is the nearest meeting of the scan with the line through the landmark along the
/// normal n of the face so far. d = K H' (H K H' + N)^-1 y, repeated as n and p change
/// [Tarantola 2005, section 3.2.3]. Across the normal a landmark goes where its neighbours do.
///
/// How far p is looked for shrinks to `ScanLimits::outlier_mm`; a landmark whose line meets no skin
/// that faces outwards within it is carried by the others alone. So is one that lies farther than
/// that, and than three standard deviations, from where all others predict it: hair, a strap. Hair
/// that covers many landmarks evenly is skin to this.
/// @param scan in the facial frame, triangles wound to face outwards
/// @param start near the scan and about its size
/// @param marked points on the scan under names of `start`, facial frame; there may be none
[[nodiscard]] LandmarksOnScan landmarks_on_scan(const ScanTree& scan,
                                                std::span<const Landmark> start,
                                                std::span<const Landmark> marked);

}  // namespace rimload
