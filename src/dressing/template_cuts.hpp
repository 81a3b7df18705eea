// Where a piece is cut so that it lies flat.
#pragma once

#include <span>
#include <vector>

#include "dressing/cut_rule.hpp"
#include "geometry/flatten.hpp"
#include "geometry/skin_patch.hpp"

namespace rimload {

/// A patch of skin laid flat, with the slits that it took.
struct CutPatch {
  SkinPatch patch;
  FlatPatch flat;
  PatchStretch stretch;         ///< left over
  std::vector<SlitLine> slits;  ///< in the chart, each from the border to its tip
  std::vector<bool> deep;       ///< of each: longer than the margin past the pressed skin
};

/// Lays the skin within a polygon of the chart flat; where it must stretch or shorten beyond the
/// limit, slits it from the border inwards, one at a time, each where it helps most.
///
/// Tried are straight slits at 24 places of the border, as long as the margin past the pressed
/// skin, so that no cut lies under the rim; where none of them is enough, also deeper ones. It ends
/// at the limit, at the most cuts allowed, or when no further cut gains enough.
/// @param polygon_uv simple, counter-clockwise [mm]
[[nodiscard]] CutPatch cut_to_lie_flat(const SkinMap& skin, std::span<const Vec2> polygon_uv,
                                       const CutRule& rule);

/// Both sides of a slit in the flat patch, from the border to the tip.
struct SlitBanks {
  std::vector<Vec2> left;   ///< passed first when one walks round counter-clockwise
  std::vector<Vec2> right;  ///< as many points
  /// How far apart they lie at the border [mm]: a wedge to cut away; below 0 they overlap, and the
  /// slit opens by as much on the skin.
  double opening_mm = 0;
};
[[nodiscard]] SlitBanks banks_of(const CutPatch& cut, const SlitLine& slit);

/// The border of the flat patch without its slits, their mouths bridged, counter-clockwise.
[[nodiscard]] Polygon outer_border(const CutPatch& cut);

}  // namespace rimload
