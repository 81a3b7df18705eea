// Outlines on the skin that overlap, as one piece.
#pragma once

#include <span>
#include <vector>

#include "geometry/skin_map.hpp"

namespace rimload {

/// The borders of the union of outlines, in the chart: closed, on the skin, facial frame [mm];
/// those of holes too.
/// @param outlines each closed, on the skin [mm]
[[nodiscard]] std::vector<std::vector<Vec3>> joined(const SkinMap& skin,
                                                    std::span<const std::vector<Vec3>> outlines);

}  // namespace rimload
