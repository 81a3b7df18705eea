// Closed outlines in a plane.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "geometry/vec.hpp"

namespace rimload {

/// Corners of a closed outline [mm]; the last joins the first. Counter-clockwise where not said
/// otherwise.
using Polygon = std::vector<Vec2>;

/// The z of a x b.
[[nodiscard]] inline double cross(const Vec2& a, const Vec2& b) {
  return a.x() * b.y() - a.y() * b.x();
}

/// Positive when counter-clockwise [mm2].
[[nodiscard]] double signed_area(std::span<const Vec2> polygon);
[[nodiscard]] double perimeter(std::span<const Vec2> polygon);
/// How often the outline runs about a point that is not on it: 1 inside a simple one, 0 outside.
[[nodiscard]] int winding_number(std::span<const Vec2> polygon, const Vec2& about);
/// From a point to the nearest of the outline [mm].
[[nodiscard]] double border_distance(std::span<const Vec2> polygon, const Vec2& from);
/// How far along a direction a ray first meets the outline [mm]; what lies nearer than
/// `beyond_mm` does not count.
[[nodiscard]] std::optional<double> ray_length(std::span<const Vec2> polygon, const Vec2& from,
                                               const Vec2& direction, double beyond_mm);

/// A rectangle with sides along the axes.
struct Extent {
  Vec2 low = Vec2::Zero();
  Vec2 high = Vec2::Zero();
  [[nodiscard]] Vec2 size() const { return high - low; }
};
/// The smallest that holds the points. @pre at least one point
[[nodiscard]] Extent extent_of(std::span<const Vec2> points);

/// The points turned about the origin, counter-clockwise.
[[nodiscard]] std::vector<Vec2> rotated(std::span<const Vec2> points, double angle_rad);
[[nodiscard]] std::vector<Vec2> shifted(std::span<const Vec2> points, const Vec2& by);

}  // namespace rimload
