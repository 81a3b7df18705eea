// Resamples a scan to the radius of the skin map.
#pragma once

#include <vector>

#include "geometry/mesh.hpp"
#include "geometry/scan_tree.hpp"
#include "geometry/skin_map.hpp"

namespace rimload {

/// What the scan has at a node of the grid.
enum class ScanNode : std::uint8_t {
  outside,   ///< not in the region asked for
  met,       ///< skin
  hole,      ///< nothing
  rejected,  ///< something too far from the base to be skin: hair, a strap, a fault
};

/// A scan as a radial map.
struct ScanRadius {
  BicubicGrid<1> radius;        ///< [mm]
  std::vector<ScanNode> nodes;  ///< n_v rows of n_u, u running fastest
  std::vector<Vec3> skin;       ///< likewise: the scan's point, where it is met
};

/// At every node of the region a line from the axis outwards; of its meetings with skin that faces
/// outwards the one nearest the base counts. What the scan has over the base, e, is smoothed and
/// carried into holes and beyond the region: s minimises
///
///   sum_met (s - e)^2 + L^4 (|D s|^2 + (|grad s|^2 + s^2/F^2)/K^2),
///
/// D the five-point Laplacian, L, K and F the smoothing, slope and fading length of `ScanLimits`: a
/// plate on the scan's points that turns into a membrane in holes. Far from any met node the radius
/// is the base's. Nodes at the edge of what is rejected are rejected too.
/// @param scan in the facial frame, triangles wound to face outwards
/// @param base the skin that the scan is about
[[nodiscard]] ScanRadius resample(const ScanTree& scan, const SkinMap& base,
                                  const MeshRegion& region);

}  // namespace rimload
