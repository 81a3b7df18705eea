// Whether the way that a case gives a feeding tube can be one over its face.
#pragma once

#include <span>
#include <vector>

#include "case/json_place.hpp"
#include "geometry/landmark.hpp"
#include "leak/obstacles.hpp"
#include "units/error.hpp"

namespace rimload {

/// Points of a tube's way lie no farther than this from the skin, outside or beneath [mm]: assumed,
/// room for points read off by hand on another face's surface.
inline constexpr double tube_off_skin_mm = 30;

/// Faults of a given way: points that lie on each other, or farther than `tube_off_skin_mm` from
/// the face; an end on the other side than the tube's.
/// @param path `path_mm` of the tube, sound by the schema
/// @param landmarks of the face; empty: what needs none is checked
/// @return with the file left empty
[[nodiscard]] std::vector<Fault> tube_path_faults(const FeedingTube& tube, const JsonPlace& path,
                                                  std::span<const Landmark> landmarks);

}  // namespace rimload
