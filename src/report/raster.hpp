// Triangles into pixels, with depth and antialiased edges.
#pragma once

#include <array>
#include <functional>
#include <span>
#include <vector>

#include "report/depth_map.hpp"
#include "report/fragment.hpp"
#include "report/image.hpp"

namespace rimload {

/// Triangles drawn alike.
struct RasterLayer {
  std::vector<RasterVertex> vertices;
  std::vector<std::array<int, 3>> triangles;
  Faces faces = Faces::both;
  bool hides = true;  ///< false: writes no depth, is drawn over what lies equally deep, and colours
                      ///< each sample at most once, so that it does not darken where it overlaps
                      ///< itself
  std::function<Rgba(const Fragment&)> paint;  ///< colour of a pixel; empty: as interpolated
};

/// Draws the layers in their order into an area of the picture, over what is there.
///
/// Each pixel has 8 samples; cover and depth are decided at each, the colour once a pixel and
/// triangle. Works through bands of rows, so that the samples of the whole area never exist at
/// once.
/// @return the depth left behind
/// @pre the area lies in the picture, no corner more than 4000 px away
[[nodiscard]] DepthMap draw_layers(Image& image, PixelRect area,
                                   std::span<const RasterLayer> layers);

}  // namespace rimload
