// Traces the rims of the demonstration cushions on their design faces.
#pragma once

#include <functional>
#include <string>

#include "geometry/face_model.hpp"

namespace rimload {

/// The text of a catalogue from that of a moulds file.
///
/// Each outline point (x, y) of the facial frame is scaled about the apex, put on the design face's
/// skin and moved back by `proud_mm` (towards the face); the lip's axis lies between the skin's
/// normal and the facial z axis (`axis_follow` 1 is the normal). A forehead pad is put on the skin
/// at a height of the facial frame, likewise scaled and proud. Strap anchors and masses are given
/// from the apex and scaled.
/// @param face_named reads a design face by its name
[[nodiscard]] std::string mould_catalogue(
    const std::string& moulds, const std::function<FaceModel(const std::string&)>& face_named);

}  // namespace rimload
