// The front view of a rim: heights and widths as a table of sizes or a paper ruler has them.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "geometry/rim.hpp"

namespace rimload {

/// Which line of the lip a length is taken from.
enum class RimEdge { inner, crown, outer };
[[nodiscard]] std::string_view name_of(RimEdge edge);

/// One line of a rim that is alike left and right, seen along z, undeflected.
///
/// The lip's inner and outer edges lie half its width to either side of the crown, across the rim.
/// Widths are read between 240 stations by straight lines: within 0.05 mm where the rim bends with
/// a radius of 10 mm.
class RimOutline {
 public:
  /// @pre as `sample_rim`
  RimOutline(const Rim& rim, RimEdge edge);

  [[nodiscard]] double top_mm() const { return top_; }  ///< y of its highest point, mask frame
  [[nodiscard]] double bottom_mm() const { return bottom_; }
  [[nodiscard]] double height_mm() const { return top_ - bottom_; }
  /// From left to right at a height y of the mask frame, the widest where it is crossed more than
  /// once; nothing above its top or below its bottom.
  [[nodiscard]] std::optional<double> width_mm(double y_mm) const;
  [[nodiscard]] double widest_mm() const { return 2 * widest_.x(); }
  [[nodiscard]] double widest_at_mm() const { return widest_.y(); }  ///< y, mask frame
  [[nodiscard]] double depth_mm() const { return depth_; }           ///< foremost to hindmost z
  /// Closed; x to the wearer's left, y up.
  [[nodiscard]] const std::vector<Vec2>& points() const { return points_; }

 private:
  std::vector<Vec2> points_;
  double top_ = 0;
  double bottom_ = 0;
  double depth_ = 0;
  Vec2 widest_ = Vec2::Zero();
};

}  // namespace rimload
