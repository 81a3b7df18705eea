// The shape to cut a dressing to, laid flat.
#pragma once

#include <vector>

#include "dressing/cut_rule.hpp"
#include "dressing/place.hpp"
#include "geometry/flatten.hpp"
#include "geometry/polygon.hpp"

namespace rimload {

/// A cut from the outline inwards: a slit, or a dart whose wedge is cut away.
struct TemplateCut {
  std::vector<Vec2> left;   ///< from the outline to the tip
  std::vector<Vec2> right;  ///< the other side of the wedge; of a slit the same line
  double length_mm = 0;
  double wedge_mm = 0;     ///< of a dart: how wide it is at the outline
  double gap_mm = 0;       ///< of a slit: how far it opens there once on the skin
  bool under_rim = false;  ///< longer than the margin past the pressed skin
};

/// One piece, seen from the side that faces away from the skin; y is up on the wearer, x to the
/// wearer's left; lengths in mm, about the middle of its extent.
struct TemplatePiece {
  SidedSite site;
  Polygon outline;  ///< corners rounded, counter-clockwise, cuts left out
  std::vector<TemplateCut> cuts;
  std::vector<Vec2> midline;  ///< where the face's midline crosses it, downwards; or empty
  PatchStretch stretch;       ///< left over with the cuts made
  bool lies_flat = true;      ///< within the limit of the rule
};

/// The skin within a dressing place's outline laid flat, slit or darted where it would have to
/// stretch beyond the limit, its corners rounded.
///
/// The piece is that of a thin sheet: the outer face of a thick one must be longer over a ridge.
/// Where the face overhangs (beneath the nose), the map of the skin is meaningless, and so is the
/// piece.
/// @pre the place has an outline
[[nodiscard]] TemplatePiece make_template(const SkinMap& skin, const DressingPlace& place,
                                          const CutRule& rule);

}  // namespace rimload
