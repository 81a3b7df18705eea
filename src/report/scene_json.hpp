// What a screen draws: a scene as JSON, the skin as a grid, the pressure on it as a picture.
#pragma once

#include <string>

#include "dressing/place.hpp"
#include "report/scene.hpp"

namespace rimload {

/// A scene, lengths in mm, facial frame: `{"scale_max_mmHg", "colours": ["#rrggbb" of pressure 0 to
/// the scale's end in equal steps], "skin": {"n_u", "n_v"}, "field": {"n_u", "n_v", "u0_mm",
/// "v0_mm", "texel_mm"}, "rim": how many stations, "straps": how many rows in each, "jets", "hair",
/// "tube", "worn": of each dressing that is on {"outline_chart_mm": [u, v] along its border,
/// "thickness_mm"}}`.
struct ScreenScene {
  std::string json;
  /// Three points a row as 32-bit floats in the machine's order: of each station of the rim the
  /// inner border of the lip, the moulded rim, the outer border; then across each strap.
  std::string lines;
  /// The pressure field, rows along u, four bytes a texel: pressure in 1/255 of the scale's end,
  /// cover, openness, 255.
  std::string field;
};
/// @param texel_mm of the pressure field
[[nodiscard]] ScreenScene screen_scene(const Scene& scene, double texel_mm);

/// Outlines of dressing places, each a list of points, as JSON.
[[nodiscard]] std::string places_json(const std::vector<DressingPlace>& places);

/// The skin's grid, `"n_u"` by `"n_v"` vertices, rows along u, as 32-bit floats in the machine's
/// order, seven a vertex: x, y, z [mm], chart u, v [mm], how hollow it is (what darkens it), share
/// shown.
[[nodiscard]] std::string skin_bytes(const Scene& scene);

}  // namespace rimload
