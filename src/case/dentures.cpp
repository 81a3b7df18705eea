#include "case/dentures.hpp"

#include <nlohmann/json.hpp>

#include "case_data.hpp"

namespace rimload {

FaceModel without_dentures(FaceModel face) {
  static const auto table = nlohmann::json::parse(data::dentures_json());
  for (const auto& row : table.at("shifts_mm")) {
    const Vec3 shift(0, row.at("up").get<double>(), -row.at("inward").get<double>());
    for (const auto& name : row.at("landmarks")) {
      for (Landmark& landmark : face.landmarks) {
        if (name == landmark.name) landmark.position_face += shift;
      }
    }
  }
  face.targets.clear();
  face.provenance += " Changed here: dentures out (common practice, no source).";
  return face;
}

}  // namespace rimload
