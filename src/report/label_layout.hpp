// Labels in two columns beside a figure, with leader lines, none on top of another.
#pragma once

#include <span>
#include <vector>

#include "report/image.hpp"

namespace rimload {

/// A label to be placed.
struct LabelWish {
  Vec2 anchor = Vec2::Zero();  ///< the place it belongs to [px]
  double height_px = 0;
};

enum class Column { left, right };

/// Where a label went.
struct LabelPlace {
  std::size_t wish = 0;  ///< which of the wishes
  Column column = Column::left;
  double top_px = 0;
};

struct LabelLayout {
  std::vector<LabelPlace> places;
  std::vector<std::size_t> left_out;  ///< wishes for which neither column had room
};

/// Shares labels among two columns of one height and places them in each.
///
/// A label goes to the side its anchor is on (those within 4 px of `middle_px` to the emptier one),
/// or across where that column is full; wishes come in order of importance, and the last are left
/// out when nothing fits. In a column the order is that of the anchors from top to bottom,
/// changed where leaders would cross, and the tops t_k minimise sum (t_k - wanted_k)^2 subject to
/// t_k+1 >= t_k + height_k + gap (least squares on an order, by pooling [Ayer 1955]).
/// @param columns the left and the right column; their inner edges are where leaders start
/// @param middle_px x of the middle of the figure
[[nodiscard]] LabelLayout place_labels(std::span<const LabelWish> wishes, const Box& left,
                                       const Box& right, double gap_px, double middle_px);

}  // namespace rimload
