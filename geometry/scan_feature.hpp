// The summit, pit, notch or corner of a scan that a landmark is.
#pragma once

#include <optional>
#include <string_view>

#include "geometry/landmark.hpp"
#include "geometry/scan_tree.hpp"

namespace rimload {

/// What is found, seen from in front of it.
enum class FeatureKind {
  summit,  ///< highest in every direction: the tip of the nose
  pit,     ///< deepest in every direction: beside the root of the nose
  notch,   ///< deepest of the profile: sellion, beneath the nose, between the lips
  corner,  ///< highest of the profile: the chin's end, round, so that nothing says how far back
           ///< its landmark lies
};

/// A feature and the direction it is seen from, unit, facial frame.
struct FeatureView {
  FeatureKind kind = FeatureKind::summit;
  Vec3 from = Vec3::UnitZ();
};

/// The feature at or near which the landmark lies, or nothing. The direction halves the angle of a
/// notch or corner.
[[nodiscard]] std::optional<FeatureView> feature_of(std::string_view landmark, Side side);

/// Where a feature was found.
struct ScanFeature {
  Vec3 position_face = Vec3::Zero();  ///< [mm]
  double curvature = 0;               ///< the least of those that count [1/mm]
  double shift_mm = 0;                ///< from where it was looked for
};

/// The extremum of a second-order surface h(s, w) fitted to the scan about a point by least
/// squares, h along the direction it is seen from; centred anew until it stands still. A profile's
/// has w = 0 kept.
///
/// Over a lopsided place the extremum of a fitted surface lies beside that of the skin: compare it
/// with the same feature of a face that is known.
/// @param scan in the facial frame, triangles wound to face outwards
/// @param near where to look [mm]; @param view seen from within the midline for notch and corner
/// @return nothing when the scan is missing there, the surface is curved the other way or less
///   than 0.02/mm, or the extremum lies farther than 8 mm away
[[nodiscard]] std::optional<ScanFeature> find_feature(const ScanTree& scan, const Vec3& near,
                                                      const FeatureView& view);

}  // namespace rimload
