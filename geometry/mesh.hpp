// The skin as triangles, for export, pictures and exact closest points.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "geometry/skin_map.hpp"

namespace rimload {

/// Triangles with shared vertices; seen from outside, corners run counter-clockwise.
struct TriangleMesh {
  std::vector<Vec3> vertices;                           ///< facial frame [mm]
  std::vector<std::array<std::uint32_t, 3>> triangles;  ///< indices of their corners
};

/// How far a region of the chart reaches to both sides at one height.
struct RegionRow {
  double v_mm = 0;
  double u_min_mm = 0;
  double u_max_mm = 0;
};

/// Part of the chart of a `SkinMap`: rows of ascending height, a smooth monotone edge between.
struct MeshRegion {
  std::vector<RegionRow> rows;  ///< two or more

  /// The edges at a height; beyond the first and last row those of that row. [mm]
  [[nodiscard]] RegionRow at(double v_mm) const;
};

/// The part of the map that is a face: from the hairline to beneath the chin, and back to just
/// before the ears. Behind them the map is meaningless and is cut off.
/// @throws InputError when the face lacks a landmark of the edge
[[nodiscard]] MeshRegion face_region(std::span<const Landmark> landmarks);

/// The whole grid of a map.
[[nodiscard]] MeshRegion grid_region(const SkinMap& skin);

/// Triangles over a region, at most `spacing_mm` apart in the chart along both directions.
/// @param spacing_mm 0.2 to 20
[[nodiscard]] TriangleMesh make_mesh(const SkinMap& skin, const MeshRegion& region,
                                     double spacing_mm);

/// Outward unit normal at each vertex: of the triangles about it, weighted by their angle there
/// [Baerentzen & Aanaes 2005, equation 1].
[[nodiscard]] std::vector<Vec3> vertex_normals(const TriangleMesh& mesh);

}  // namespace rimload
