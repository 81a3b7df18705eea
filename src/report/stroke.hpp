// Lines of any width, plain or dashed, on the page or on the face.
#pragma once

#include <span>
#include <vector>

#include "report/colour.hpp"
#include "report/depth_map.hpp"
#include "report/image.hpp"

namespace rimload {

/// Corners of a line: x, y [px] and depth towards the viewer [mm].
using StrokePath = std::vector<Vec3>;

struct Stroke {
  double width_px = 2;
  Rgb colour;
  double cover = 1;                  ///< 0 invisible to 1 opaque
  const DepthMap* behind = nullptr;  ///< what can hide the line; none: it is on the page
  double lift_mm = 1.5;              ///< towards the viewer before comparing depths
};

/// Draws lines as one: where they cross or bend the colour is laid on once. Ends are round,
/// edges antialiased by distance; cover = clamp(width/2 + 1/2 - distance, 0, 1).
void draw_strokes(Image& image, std::span<const StrokePath> paths, const Stroke& stroke);
void draw_stroke(Image& image, const StrokePath& path, const Stroke& stroke);

/// The path cut into dashes of one length with gaps of another [px], spaced so that a whole
/// number fits.
[[nodiscard]] std::vector<StrokePath> dashes(const StrokePath& path, double dash_px, double gap_px);

/// The path with its first corner repeated at the end.
[[nodiscard]] StrokePath closed(StrokePath path);

/// A filled disc on the page.
void draw_dot(Image& image, const Vec2& centre_px, double radius_px, Rgb colour);

}  // namespace rimload
