// Landmarks held where the skin map can have them.
#pragma once

#include <vector>

#include "geometry/landmark.hpp"

namespace rimload {

/// The ears of a very large face would lie on or behind the axis of the skin map, which has no
/// place there: such landmarks are set half a millimetre before it. No dimension is taken there,
/// and no rim lies there.
[[nodiscard]] std::vector<Landmark> before_the_axis(std::vector<Landmark> landmarks);

}  // namespace rimload
