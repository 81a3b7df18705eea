// A first map of a curved patch into the plane.
#pragma once

#include <vector>

#include "geometry/mesh.hpp"

namespace rimload {

/// The least-squares conformal map of a patch [Levy et al. 2002], free at the border, scaled to the
/// patch's area. Where it would fold, Tutte's barycentric map into a circle instead, which never
/// folds [Tutte 1963].
/// @param patch a disc: one border, no hole
/// @return a point of the plane for each vertex [mm], no triangle turned over
/// @throws InternalError when the patch is no disc
[[nodiscard]] std::vector<Vec2> conformal_map(const TriangleMesh& patch);

/// Whether every triangle keeps its way round in the plane.
[[nodiscard]] bool is_unfolded(const TriangleMesh& patch, const std::vector<Vec2>& points);

}  // namespace rimload
