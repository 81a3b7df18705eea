#include "report/scene_json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <nlohmann/json.hpp>

#include "report/colour_scale.hpp"
#include "report/pressure_field.hpp"
#include "report/skin_surface.hpp"
#include "report/strap_drawing.hpp"

namespace rimload {

namespace {

using nlohmann::json;

constexpr int n_colours = 64;
constexpr double least_shown = 0.5;  // a strap ends where the face does

// To 0.01 mm: finer than any screen shows, and a third of the text.
double rounded(double mm) { return std::round(100 * mm) / 100; }

json json_of(const Vec3& p) { return {rounded(p.x()), rounded(p.y()), rounded(p.z())}; }

json json_of(const std::vector<Vec3>& points) {
  json out = json::array();
  for (const Vec3& p : points) out.push_back(json_of(p));
  return out;
}

// On the chart a screen can lay the piece over the skin that it has.
json on_chart(const std::vector<Vec3>& outline) {
  json out = json::array();
  for (const Vec3& p : outline) {
    const Vec2 uv = SkinMap::chart(p);
    out.push_back({rounded(uv.x()), rounded(uv.y())});
  }
  return out;
}

json colours_of(const Scene& scene) {
  const ColourScale scale(scene.scale_max_mmhg);
  json out = json::array();
  for (int k = 0; k < n_colours; ++k) {
    const Rgb c = scale.at(scene.scale_max_mmhg * k / (n_colours - 1));
    out.push_back(fmt::format("#{:02x}{:02x}{:02x}", c.r, c.g, c.b));
  }
  return out;
}

// Points as 32-bit floats, which are exact far below what a screen shows.
class Floats {
 public:
  void add(const Vec3& p) {
    for (const double value : {p.x(), p.y(), p.z()}) add(value);
  }
  void add(double value) { values_.push_back(static_cast<float>(value)); }
  [[nodiscard]] std::string bytes() const {
    std::string out(values_.size() * sizeof(float), '\0');
    std::memcpy(out.data(), values_.data(), out.size());
    return out;
  }

 private:
  std::vector<float> values_;
};

unsigned char byte_of(double share) {
  // Never negative, and lround is slow.
  return static_cast<unsigned char>(  // NOLINT(bugprone-incorrect-roundings)
      255 * std::clamp(share, 0.0, 1.0) + 0.5);
}

std::string bytes_of(const FieldPicture& field, double scale_max_mmhg) {
  std::string out;
  out.reserve(4 * field.texels.size());
  for (const PressureField::Value& value : field.texels) {
    if (value.cover <= 0) {
      out.append("\0\0\0\xff", 4);
      continue;
    }
    for (const double share : {value.mmhg / scale_max_mmhg, static_cast<double>(value.cover),
                               static_cast<double>(value.open), 1.0}) {
      out.push_back(static_cast<char>(byte_of(share)));
    }
  }
  return out;
}

}  // namespace

ScreenScene screen_scene(const Scene& scene, double texel_mm) {
  json out = {{"scale_max_mmHg", scene.scale_max_mmhg},
              {"colours", colours_of(scene)},
              {"straps", json::array()},
              {"jets", json::array()},
              {"hair", json::array()},
              {"worn", json::array()},
              {"tube", nullptr}};
  const auto [n_u, n_v] = skin_grid_size();
  out["skin"] = {{"n_u", n_u}, {"n_v", n_v}};
  const FieldPicture field = PressureField(scene, texel_mm).picture();
  out["field"] = {{"n_u", field.n_u},
                  {"n_v", field.n_v},
                  {"u0_mm", field.u0_mm},
                  {"v0_mm", field.v0_mm},
                  {"texel_mm", field.texel_mm}};
  Floats lines;
  int n_rim = 0;
  for (const SceneStation& station : scene.stations) {
    if (station.points.empty()) continue;
    for (const Vec3& p : {station.points.front(), station.rim, station.points.back()}) lines.add(p);
    ++n_rim;
  }
  out["rim"] = n_rim;
  for (const SceneStrap& strap : scene.straps) {
    int n_rows = 0;
    for (const std::vector<Vec3>& row : strap_band(strap, *scene.skin)) {
      if (shown_share(SkinMap::chart(row.front())) < least_shown) continue;
      for (const Vec3& p : {row.front(), row[row.size() / 2], row.back()}) lines.add(p);
      ++n_rows;
    }
    out["straps"].push_back(n_rows);
  }
  for (const SceneJet& jet : scene.jets) {
    out["jets"].push_back({{"from", json_of(jet.from)},
                           {"towards", json_of(jet.towards)},
                           {"flow_L_min", jet.flow_l_min}});
  }
  for (const auto& [root, tip] : scene.hair) {
    out["hair"].push_back({json_of(root), json_of(tip)});
  }
  for (const SceneDressing& piece : scene.worn) {
    out["worn"].push_back(
        {{"outline_chart_mm", on_chart(piece.outline)}, {"thickness_mm", piece.thickness_mm}});
  }
  if (scene.tube) {
    out["tube"] = {{"points", json_of(scene.tube->points)}, {"width_mm", scene.tube->width_mm}};
  }
  return {out.dump(), lines.bytes(), bytes_of(field, scene.scale_max_mmhg)};
}

std::string places_json(const std::vector<DressingPlace>& places) {
  json out = json::array();
  for (const DressingPlace& place : places) out.push_back(json_of(place.outline));
  return out.dump();
}

std::string skin_bytes(const Scene& scene) {
  const SkinGrid grid = skin_grid(*scene.skin, scene.chin_end_mm);
  Floats values;
  for (const SkinGrid::Node& node : grid.nodes) {
    values.add(node.point);
    for (const double value : {node.uv.x(), node.uv.y(), node.hollow, node.shown}) {
      values.add(value);
    }
  }
  return values.bytes();
}

}  // namespace rimload
