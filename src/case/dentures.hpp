// A face without its dentures.
#pragma once

#include "geometry/face_model.hpp"

namespace rimload {

/// The face with lips and cheeks sunk in and the lower face shorter, by `data/dentures.json`
/// (common practice, no source). Its `targets` no longer hold and are dropped.
[[nodiscard]] FaceModel without_dentures(FaceModel face);

}  // namespace rimload
