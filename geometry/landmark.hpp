// Named points of the face with the depth of the soft tissue beneath them.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/vec.hpp"

namespace rimload {

enum class Side { midline, left, right };

/// `midline`, `left` or `right`: the wearer's side.
[[nodiscard]] std::string_view name_of(Side side);
/// The side named, or nothing.
[[nodiscard]] std::optional<Side> side_named(std::string_view name);
/// Left for right and right for left.
[[nodiscard]] Side mirrored(Side side);

/// A named point on the skin.
struct Landmark {
  std::string name;
  Side side = Side::midline;
  Vec3 position_face = Vec3::Zero();  ///< facial frame [mm]
  double tissue_depth_mm = 0;         ///< skin to bone or other backing, along the normal [mm]
};

/// Both sides of a face given by its midline and left landmarks.
/// @return the same landmarks followed by a right one for each left one, x negated.
[[nodiscard]] std::vector<Landmark> with_mirrored_side(std::span<const Landmark> half);

/// The index of each landmark's mirror image, when the face is its own mirror image to the last
/// bit; nothing otherwise.
[[nodiscard]] std::optional<std::vector<std::size_t>> mirror_images(
    std::span<const Landmark> landmarks);

/// The landmark of that name and side.
/// @throws InputError naming the landmark when there is none.
[[nodiscard]] const Landmark& find_landmark(std::span<const Landmark> landmarks,
                                            std::string_view name, Side side);

}  // namespace rimload
