// Triangles over a polygon of the plane, cut open along slits.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "geometry/polygon.hpp"

namespace rimload {

/// Triangles of the plane with shared points; corners run counter-clockwise.
struct PlaneMesh {
  std::vector<Vec2> points;                             ///< [mm]
  std::vector<std::array<std::uint32_t, 3>> triangles;  ///< indices of their corners
};

/// A line along which a mesh is cut: from a corner of the polygon to a tip inside. [mm]
using SlitLine = std::vector<Vec2>;

struct MeshSize {
  double edge_mm = 1.5;            ///< no edge longer, but where that would take too many points
  std::size_t most_points = 2000;  ///< then edges are longer; a crowded border may need more
};

/// The outer edge of all that a closed outline winds about, counter-clockwise and without
/// crossings.
///
/// Where an outline runs through itself, the loops that it cuts off count as inside; of parts that
/// hang together at a point only, the largest is kept; holes are filled. Points nearer than
/// `nearest_mm` to the one before are dropped.
/// @throws InternalError when the outline encloses nothing
[[nodiscard]] Polygon simple_outline(std::span<const Vec2> outline, double nearest_mm = 0.1);

/// A constrained Delaunay mesh of a polygon, refined until no angle is below 20.7 degrees where the
/// polygon allows [Shewchuk 2002, cited from memory] and no edge too long. Along a slit the mesh is
/// open: its points appear twice, at the same place, but for the tip.
/// @param polygon simple, counter-clockwise
/// @param slits each from a corner of the polygon inwards; they neither meet nor leave the polygon
[[nodiscard]] PlaneMesh mesh_polygon(std::span<const Vec2> polygon, std::span<const SlitLine> slits,
                                     const MeshSize& size);

/// The points on the border, once round, counter-clockwise. A slit is passed down one bank and up
/// the other.
/// @pre the triangles hang together by edges and have no hole
[[nodiscard]] std::vector<std::uint32_t> border_of(
    std::span<const std::array<std::uint32_t, 3>> triangles);

}  // namespace rimload
