// Face models by name, and face files of the user's own.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/face_model.hpp"

namespace rimload {

/// The names of the face models that come with the program, sorted.
[[nodiscard]] std::vector<std::string> face_model_names();

/// A face model that comes with the program, or null; read once.
[[nodiscard]] const FaceModel* face_model_named(const std::string& name);

/// Reads a face file, format `src/case/schema/face.schema.json`.
///
/// Beyond the schema: each landmark is known and given once, lies on its side and in front of the
/// axis of the skin map; a symmetric face gives no right side; sellion and tragion are there.
/// @param file its name, for messages
/// @throws InputError with every fault found
[[nodiscard]] FaceModel read_face_file(std::string_view text, const std::string& file);

}  // namespace rimload
