#include "case/face_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <mutex>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>

#include "case/json_place.hpp"
#include "case/json_text.hpp"
#include "case/nearest_name.hpp"
#include "case/schema.hpp"
#include "case_data.hpp"
#include "geometry/measurement.hpp"
#include "geometry/skin_map.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

constexpr std::string_view folder = "face-models/";
constexpr std::string_view file_name = "/landmarks.json";

std::string_view model_of(std::string_view path) {
  return path.substr(folder.size(), path.size() - folder.size() - file_name.size());
}

std::optional<std::string_view> model_text(std::string_view name) {
  for (const auto& [path, text] : data::case_table()) {
    if (model_of(path) == name) return text;
  }
  return std::nullopt;
}

// Every landmark that the project knows is one of the reference face's.
const std::vector<std::string>& known_landmarks() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> out;
    const auto json = nlohmann::json::parse(model_text("reference").value());
    for (const auto& landmark : json.at("landmarks")) out.push_back(landmark.at("name"));
    return out;
  }();
  return names;
}

using Given = std::set<std::pair<std::string, std::string>>;

void check_landmark(const JsonPlace& place, bool symmetric, Given& given,
                    std::vector<Fault>& faults) {
  const auto fault = [&](const JsonPlace& at, std::string message) {
    faults.push_back({"", at.pointer(), std::move(message)});
  };
  const auto name = place["name"].text();
  const auto side = place["side"].text();
  const auto x = place["x_mm"].number();
  const auto z = place["z_mm"].number();
  if (name) {
    const auto& known = known_landmarks();
    if (std::find(known.begin(), known.end(), *name) == known.end()) {
      fault(place["name"],
            fmt::format("no landmark is called {}{}", in_quotes(*name), name_hint(*name, known)));
    }
  }
  if (name && side && !given.emplace(*name, *side).second) {
    fault(place, fmt::format("{} ({}) is given twice", in_quotes(*name), in_quotes(*side)));
  }
  if (side == "right" && symmetric) {
    fault(place["side"],
          "a symmetric face gives no right side: it is the mirror image of the left");
  }
  const bool wrong_side = x && ((side == "left" && *x <= 0) || (side == "right" && *x >= 0) ||
                                (side == "midline" && symmetric && *x != 0));
  if (wrong_side) {
    fault(place["x_mm"], fmt::format("{} mm is not on the side named, {}: left has x above 0, "
                                     "right below 0, the midline of a symmetric face 0",
                                     *x, in_quotes(*side)));
  }
  if (z && *z <= SkinMap::axis_z_mm) {
    fault(place["z_mm"], fmt::format("{} mm is not in front of the axis of the skin map, {} mm", *z,
                                     SkinMap::axis_z_mm));
  }
}

void check_measures(const JsonPlace& targets, std::vector<Fault>& faults) {
  std::vector<std::string> names;
  for (const Measure measure : all_measures) names.emplace_back(name_of(measure));
  for (const JsonPlace& target : targets.entries()) {
    const auto name = target["measure"].text();
    if (!name || measure_named(*name)) continue;
    faults.push_back(
        {"", target["measure"].pointer(),
         fmt::format("no measure is called {}{}", in_quotes(*name), name_hint(*name, names))});
  }
}

}  // namespace

std::vector<std::string> face_model_names() {
  std::vector<std::string> names;
  for (const auto& [path, text] : data::case_table()) names.emplace_back(model_of(path));
  std::sort(names.begin(), names.end());
  return names;
}

const FaceModel* face_model_named(const std::string& name) {
  static std::mutex reading;
  static std::map<std::string, FaceModel> read;
  const std::lock_guard lock(reading);
  const auto known = read.find(name);
  if (known != read.end()) return &known->second;
  const auto text = model_text(name);
  return text ? &read.emplace(name, read_face_file(*text, name)).first->second : nullptr;
}

FaceModel read_face_file(std::string_view text, const std::string& file) {
  const nlohmann::json document = parse_json(text, file);
  std::vector<Fault> faults = schema_faults(document, FileKind::face, file);
  const JsonPlace root(document);
  const bool symmetric = root["symmetric"].truth().value_or(true);
  Given given;
  for (const JsonPlace& landmark : root["landmarks"].entries()) {
    check_landmark(landmark, symmetric, given, faults);
  }
  struct Needed {
    const char *name, *side;
  };
  for (const auto& [name, side] :
       {Needed{"sellion", "midline"}, Needed{"tragion", "left"}, Needed{"tragion", "right"}}) {
    if (symmetric && side == std::string_view("right")) continue;
    if (given.count({name, side}) == 0) {
      faults.push_back({"", "/landmarks", fmt::format("'{}' ({}) is missing", name, side)});
    }
  }
  check_measures(root["targets"], faults);
  for (Fault& fault : faults) fault.file = file;
  if (!faults.empty()) throw InputError(std::move(faults));
  return read_face(text, file);
}

}  // namespace rimload
