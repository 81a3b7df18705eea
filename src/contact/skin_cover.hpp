// What lies on the skin or lifts it: dressings and swelling.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "geometry/bicubic_grid.hpp"
#include "geometry/skin_map.hpp"

namespace rimload {

/// Dressing of one kind on the skin.
struct CoverPatch {
  /// Closed, on the skin, facial frame [mm]. Those that overlap are one piece.
  std::vector<std::vector<Vec3>> outlines;
  double thickness_mm = 0;       ///< t, without load
  double compressive_n_mm2 = 0;  ///< M_l of the layer across its thickness, above 0
  double shear_n_mm2 = 0;        ///< G_l, above 0
  double friction = 0;           ///< of the cushion on it
};

/// The cover at one point of the skin, with its slopes along the chart.
struct CoverPoint {
  double thickness_mm = 0;            ///< t
  double compliance_mm3_n = 0;        ///< t/M_l
  double shear_compliance_mm3_n = 0;  ///< t/G_l
  double friction_change = 0;         ///< against that on bare skin
  double raise_mm = 0;                ///< of the skin itself; no slope
  Vec2 thickness_slope = Vec2::Zero();
  Vec2 compliance_slope = Vec2::Zero();
  Vec2 shear_compliance_slope = Vec2::Zero();
  Vec2 friction_slope = Vec2::Zero();

  /// How far the surface that a cushion meets lies above the bare skin [mm].
  [[nodiscard]] double height_mm() const { return thickness_mm + raise_mm; }
};

/// Dressings on a face and a swelling of it, as smooth fields over the chart.
///
/// Edges are bevelled over `bevel_mm`. Where kinds overlap, thicknesses and compliances add up and
/// the one named last is what the cushion rubs on. Swelling raises the skin evenly
/// and deepens the tissue as much.
class SkinCover {
 public:
  static constexpr double bevel_mm = 2;  ///< width of an edge; the fields must be smooth

  SkinCover() = default;
  /// @param bare_friction of the cushion on bare skin
  /// @pre each outline has 3 points or more, inside the map's frame
  SkinCover(const SkinMap& skin, std::span<const CoverPatch> patches, double bare_friction);

  /// The same on skin that swells by so much more [mm].
  [[nodiscard]] SkinCover raised_by(double raise_mm) const;

  [[nodiscard]] CoverPoint at(const Vec2& uv) const;
  /// No point of the cover's surface lies higher above the bare skin [mm].
  [[nodiscard]] double greatest_height_mm() const { return greatest_thickness_mm_ + raise_mm_; }

 private:
  std::optional<BicubicGrid<4>> fields_;  ///< thickness, compliances, friction; none: no pieces
  double greatest_thickness_mm_ = 0;
  double raise_mm_ = 0;
};

/// A skin point as met on top of a cover: distance and gradient are those of the cover's surface,
/// the normal stays that of the skin beneath, which a bevelled edge's is not.
[[nodiscard]] SkinPoint on_top(SkinPoint skin, const CoverPoint& cover);

}  // namespace rimload
