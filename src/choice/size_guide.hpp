// Which dimensions of a wearer go with a cushion's size, before any mask is tried.
#pragma once

#include <optional>
#include <vector>

#include "case/cushion.hpp"
#include "geometry/measurement.hpp"

namespace rimload {

/// By what a size goes with a dimension.
enum class SizeRoom {
  bottom_below,  ///< the rim's lowest point lies so far below the dimension's end
  room_beside    ///< the rim's inner edge is so much wider at each side
};

struct SizeGuideRule {
  Measure measure = Measure::nose_breadth;
  SizeRoom by = SizeRoom::room_beside;
  double low_mm = 0;
  double high_mm = 0;
};

/// The rules for a type, from `data/size-guide.json`: conventions of this project, no published
/// limits.
[[nodiscard]] const std::vector<SizeGuideRule>& size_guide(CushionType type);

struct MeasureRange {
  double low_mm = 0;
  double high_mm = 0;
};

/// The dimensions that go with a cushion by a rule: bottom_below, B - high to B - low, where B is
/// how far the crown's lowest point lies below sellion with the apex where it is placed;
/// room_beside, W - 2 high to W - 2 low, where W is the inner edge's width at the level of the
/// wings of the nose or the corners of the mouth of its design face. Nothing where the rim does not
/// reach that level.
[[nodiscard]] std::optional<MeasureRange> range_for(const SizeGuideRule& rule,
                                                    const Cushion& cushion);

}  // namespace rimload
