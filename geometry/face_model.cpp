#include "geometry/face_model.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "units/error.hpp"

namespace rimload {

namespace {

using Json = nlohmann::ordered_json;

// The file under reading, for messages.
struct Reader {
  std::string file;

  [[noreturn]] void fault(const std::string& path, const std::string& message) const {
    throw InputError(file, path, message);
  }
  [[nodiscard]] const Json& member(const Json& json, const std::string& path,
                                   const char* key) const {
    if (!json.is_object() || !json.contains(key)) fault(path, "lacks '" + std::string(key) + "'");
    return json.at(key);
  }
  [[nodiscard]] double number(const Json& json, const std::string& path, const char* key) const {
    const Json& value = member(json, path, key);
    if (!value.is_number() || !std::isfinite(value.get<double>())) {
      fault(path + "/" + key, value.dump() + " is no number");
    }
    return value.get<double>();
  }
  [[nodiscard]] std::string text(const Json& json, const std::string& path, const char* key) const {
    const Json& value = member(json, path, key);
    if (!value.is_string()) fault(path + "/" + key, value.dump() + " is no text");
    return value.get<std::string>();
  }
};

Landmark read_landmark(const Reader& in, const Json& json, const std::string& path) {
  Landmark landmark;
  landmark.name = in.text(json, path, "name");
  const std::string side = in.text(json, path, "side");
  const auto named = side_named(side);
  if (!named) in.fault(path + "/side", "'" + side + "' is not midline, left or right");
  landmark.side = *named;
  landmark.position_face = {in.number(json, path, "x_mm"), in.number(json, path, "y_mm"),
                            in.number(json, path, "z_mm")};
  landmark.tissue_depth_mm = in.number(json, path, "tissue_depth_mm");
  return landmark;
}

MeasureTarget read_target(const Reader& in, const Json& json, const std::string& path) {
  const std::string name = in.text(json, path, "measure");
  const auto named = measure_named(name);
  if (!named) in.fault(path + "/measure", "'" + name + "' is no known measure");
  return {*named, in.number(json, path, "target_mm"), in.text(json, path, "source")};
}

double rounded(double value_mm) { return std::round(value_mm * 1e4) / 1e4 + 0.0; }

std::string lines(const std::vector<Json>& rows) {
  std::string text = "[";
  for (const Json& row : rows) {
    text += (text.size() > 1 ? ",\n    " : "\n    ") + row.dump(-1, ' ', false);
  }
  return text + (rows.empty() ? "]" : "\n  ]");
}

}  // namespace

FaceModel read_face(std::string_view text, const std::string& file) {
  const Reader in{file};
  const Json json = Json::parse(text.begin(), text.end(), nullptr, false);
  if (json.is_discarded()) in.fault("", "is no JSON");
  if (in.number(json, "", "rimload_face") != 1) {
    in.fault("/rimload_face", json["rimload_face"].dump() + " is a version not known here, not 1");
  }
  FaceModel face;
  face.name = in.text(json, "", "name");
  face.title = in.text(json, "", "title");
  face.provenance = in.text(json, "", "provenance");
  const Json& symmetric = in.member(json, "", "symmetric");
  if (!symmetric.is_boolean()) in.fault("/symmetric", symmetric.dump() + " is not true or false");
  face.symmetric = symmetric.get<bool>();
  if (json.contains("child")) {
    if (!json["child"].is_boolean())
      in.fault("/child", json["child"].dump() + " is not true or false");
    face.child = json["child"].get<bool>();
  }
  const Json& landmarks = in.member(json, "", "landmarks");
  for (std::size_t k = 0; k < landmarks.size() && landmarks.is_array(); ++k) {
    const std::string path = "/landmarks/" + std::to_string(k);
    face.landmarks.push_back(read_landmark(in, landmarks[k], path));
    if (face.symmetric && face.landmarks.back().side == Side::right) {
      in.fault(path + "/side", "a symmetric face holds midline and left landmarks only");
    }
    if (face.symmetric && face.landmarks.back().side == Side::midline &&
        face.landmarks.back().position_face.x() != 0) {
      in.fault(path + "/x_mm", "a midline landmark of a symmetric face has x_mm = 0");
    }
  }
  if (face.landmarks.empty()) in.fault("/landmarks", "holds no landmark");
  if (face.symmetric) face.landmarks = with_mirrored_side(face.landmarks);
  if (json.contains("targets")) {
    const Json& targets = json["targets"];
    for (std::size_t k = 0; k < targets.size() && targets.is_array(); ++k) {
      face.targets.push_back(read_target(in, targets[k], "/targets/" + std::to_string(k)));
    }
  }
  return face;
}

std::string write_face(const FaceModel& face) {
  std::vector<Json> landmarks;
  for (const Landmark& landmark : face.landmarks) {
    if (face.symmetric && landmark.side == Side::right) continue;
    const Vec3& x = landmark.position_face;
    landmarks.push_back({{"name", landmark.name},
                         {"side", name_of(landmark.side)},
                         {"x_mm", rounded(x.x())},
                         {"y_mm", rounded(x.y())},
                         {"z_mm", rounded(x.z())},
                         {"tissue_depth_mm", rounded(landmark.tissue_depth_mm)}});
  }
  std::vector<Json> targets;
  for (const MeasureTarget& target : face.targets) {
    targets.push_back({{"measure", name_of(target.measure)},
                       {"target_mm", rounded(target.target_mm)},
                       {"source", target.source}});
  }
  std::string text = "{\n  \"rimload_face\": 1,\n";
  text += "  \"name\": " + Json(face.name).dump() + ",\n";
  text += "  \"title\": " + Json(face.title).dump() + ",\n";
  text += "  \"provenance\": " + Json(face.provenance).dump() + ",\n";
  if (face.child) text += "  \"child\": true,\n";
  text += std::string("  \"symmetric\": ") + (face.symmetric ? "true" : "false") + ",\n";
  text += "  \"landmarks\": " + lines(landmarks) + ",\n";
  return text + "  \"targets\": " + lines(targets) + "\n}\n";
}

}  // namespace rimload
