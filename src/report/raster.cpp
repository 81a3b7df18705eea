#include "report/raster.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "report/sample_band.hpp"

namespace rimload {

namespace {

constexpr int band_rows = 16;  // their samples stay in the processor's cache

// For each band of rows, the triangles that can touch it.
std::vector<std::vector<int>> sorted_into_bands(const RasterLayer& layer, PixelRect area,
                                                std::size_t n_bands) {
  std::vector<std::vector<int>> bands(n_bands);
  for (std::size_t k = 0; k < layer.triangles.size(); ++k) {
    const auto& corners = layer.triangles[k];
    const auto y = [&](std::size_t c) {
      return layer.vertices[static_cast<std::size_t>(corners[c])].y;
    };
    const auto [least, most] = std::minmax({y(0), y(1), y(2)});
    // A pixel of slack for the rounding of corners.
    const double first = std::floor((least - 1 - area.top) / band_rows);
    const double last = std::floor((most + 1 - area.top) / band_rows);
    if (last < 0 || first >= static_cast<double>(n_bands)) continue;
    const auto from = static_cast<std::size_t>(std::max(first, 0.0));
    const auto to = std::min(static_cast<std::size_t>(last), n_bands - 1);
    for (std::size_t b = from; b <= to; ++b) bands[b].push_back(static_cast<int>(k));
  }
  return bands;
}

}  // namespace

DepthMap draw_layers(Image& image, PixelRect area, std::span<const RasterLayer> layers) {
  assert(area.left >= 0 && area.top >= 0 && area.right <= image.width &&
         area.bottom <= image.height);
  DepthMap depth(area);
  if (area.width() <= 0 || area.height() <= 0) return depth;
  const auto n_bands = static_cast<std::size_t>((area.height() + band_rows - 1) / band_rows);
  std::vector<std::vector<std::vector<int>>> sorted;
  for (const RasterLayer& layer : layers) {
    sorted.push_back(sorted_into_bands(layer, area, n_bands));
  }
  SampleBand band;
  for (std::size_t b = 0; b < n_bands; ++b) {
    PixelRect rows = area;
    rows.top = area.top + static_cast<int>(b) * band_rows;
    rows.bottom = std::min(rows.top + band_rows, area.bottom);
    band.begin(rows);
    for (std::size_t l = 0; l < layers.size(); ++l) {
      const RasterLayer& layer = layers[l];
      for (const int k : sorted[l][b]) {
        const auto& corners = layer.triangles[static_cast<std::size_t>(k)];
        const auto corner = [&](std::size_t c) -> const RasterVertex& {
          return layer.vertices[static_cast<std::size_t>(corners[c])];
        };
        const Triangle triangle(corner(0), corner(1), corner(2), layer.faces);
        if (triangle.is_seen()) band.draw(image, layer, triangle, static_cast<std::int32_t>(l + 1));
      }
    }
    band.finish(image, depth);
  }
  return depth;
}

}  // namespace rimload
