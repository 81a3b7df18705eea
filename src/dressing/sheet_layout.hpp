// Pieces laid out on the sheets that dressings are sold as.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "dressing/cut_rule.hpp"
#include "geometry/polygon.hpp"

namespace rimload {

/// The size sold.
struct SheetSold {
  double length_mm = 0;  ///< the longer side
  double width_mm = 0;
  bool has_grain = false;  ///< stretches along its length: up on the wearer stays along it
};

struct PlacedPiece {
  std::size_t piece = 0;  ///< its place among the outlines
  std::size_t sheet = 0;
  double turn_rad = 0;        ///< counter-clockwise, before the shift
  Vec2 shift = Vec2::Zero();  ///< from the sheet's lower left corner, length to the right [mm]
};

struct SheetLayout {
  std::size_t n_sheets = 0;
  std::vector<PlacedPiece> placed;     ///< sheet by sheet, on each in the order of the outlines
  std::vector<std::size_t> too_large;  ///< pieces that no sheet holds, however they are turned
};

/// Lays outlines on sheets in shelves: the highest first, each on the first shelf with room.
///
/// A piece keeps upright where that costs little; it is turned, by steps of 15 degrees, where it
/// wouldn't fit else or takes up a box smaller by a seventh or more. With a grain it lies with its
/// y along the sheet's length.
/// @param most_on_sheet pieces on one sheet, at least 1
[[nodiscard]] SheetLayout lay_out(std::span<const Polygon> outlines, const SheetSold& sheet,
                                  const CutRule& rule, std::size_t most_on_sheet);

}  // namespace rimload
