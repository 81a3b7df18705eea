// A piece of skin as triangles, bounded by an outline.
#pragma once

#include <span>
#include <vector>

#include "geometry/mesh.hpp"
#include "geometry/plane_mesh.hpp"
#include "geometry/skin_map.hpp"

namespace rimload {

struct SkinPatch {
  std::vector<Vec2> uv;               ///< chart coordinates of the vertices [mm]
  TriangleMesh mesh;                  ///< on the skin, facial frame [mm]
  std::vector<std::uint32_t> border;  ///< once round, counter-clockwise seen from outside; down one
                                      ///< bank of a slit and up the other
};

/// The skin within a polygon of the map's chart, cut open along slits.
///
/// Triangles are chords of the skin: over a radius R an edge of length h is short by h^2/(24 R^2),
/// 0.15 % for 1.5 mm on a nose of 8 mm.
/// @param polygon_uv simple, counter-clockwise, in chart coordinates [mm]
/// @param slits in chart coordinates, as `mesh_polygon` wants them
[[nodiscard]] SkinPatch make_skin_patch(const SkinMap& skin, std::span<const Vec2> polygon_uv,
                                        std::span<const SlitLine> slits, const MeshSize& size);

}  // namespace rimload
