// The face models stored with the project.
#pragma once

#include <array>
#include <fstream>
#include <sstream>
#include <string>

#include "geometry/face_model.hpp"

namespace rimload {

inline constexpr std::array face_names{"reference", "adult-female", "adult-male",  "small",
                                       "medium",    "large",        "long-narrow", "short-wide"};

inline std::string stored_text(const std::string& path_in_project) {
  std::ifstream in(std::string(RIMLOAD_SOURCE_DIR) + "/" + path_in_project, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return std::move(text).str();
}

inline FaceModel stored_face(const std::string& name) {
  const std::string path = "face-models/" + name + "/landmarks.json";
  return read_face(stored_text(path), path);
}

}  // namespace rimload
