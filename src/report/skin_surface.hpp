// The shaded skin.
#pragma once

#include <utility>
#include <vector>

#include "report/camera.hpp"
#include "report/raster.hpp"

namespace rimload {

/// The skin as drawn, whoever looks: a grid over the chart, rows along u.
struct SkinGrid {
  struct Node {
    Vec2 uv = Vec2::Zero();  ///< chart coordinates [mm]
    Vec3 point = Vec3::Zero();
    Vec3 normal = Vec3::UnitZ();
    double hollow = 0;  ///< negative in hollows, which darkens them
    double shown = 1;   ///< 0 where the map ends
  };
  int n_u = 0;
  int n_v = 0;
  std::vector<Node> nodes;
};

/// Nodes of the grid along u and along v, for every face.
[[nodiscard]] std::pair<int, int> skin_grid_size();
/// @param chin_end_mm as `skin_layer`
[[nodiscard]] SkinGrid skin_grid(const SkinMap& skin, double chin_end_mm);

/// The skin as seen by a camera, lit softly from above and in front, the same on both sides.
///
/// Colour is that of pale warm clay, standing for no one's skin; hollows are darkened a little
/// (skin radius against its mean over a few millimetres), which makes eyes, nose and lips
/// legible. The chart coordinates go along as u, v [mm].
/// @param chin_end_mm height of menton; what lies below it fades within a centimetre
[[nodiscard]] RasterLayer skin_layer(const SkinMap& skin, const Camera& camera, double chin_end_mm);

/// How much of the face is shown at chart coordinates: 1 inside, fading to 0 over the last
/// millimetres before the map ends behind the ears, above the forehead and below the chin.
[[nodiscard]] double shown_share(const Vec2& uv);

}  // namespace rimload
