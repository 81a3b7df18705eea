// The face that a cushion was moulded to, and the levels on it at which a rim's width is taken.
#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "case/cushion.hpp"
#include "geometry/face_model.hpp"

namespace rimload {

/// At which height of the face; a convention of this project.
enum class WidthLevel {
  bridge,  ///< the end of the nose's bone (rhinion)
  nose,    ///< the wings of the nose where they are widest (alare)
  mouth    ///< the corners of the mouth (cheilion)
};
inline constexpr std::array all_width_levels{WidthLevel::bridge, WidthLevel::nose,
                                             WidthLevel::mouth};
/// `bridge`, `nose` or `mouth`.
[[nodiscard]] std::string_view name_of(WidthLevel level);

/// The cushion's design face where that is a face model of ours, else the reference face.
[[nodiscard]] FaceModel design_face_of(const Cushion& cushion);

/// y of a level in the cushion's mask frame, on its design face at its scale, the apex where it is
/// placed [mm].
[[nodiscard]] double level_mm(WidthLevel level, const Cushion& cushion, const FaceModel& face);

}  // namespace rimload
