#include "report/raster.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstdint>
#include <utility>

#include "report/triangle.hpp"

namespace rimload {

namespace {

constexpr int band_rows = 16;  // their samples stay in the processor's cache

// While all samples of a pixel have one colour, only that of the first is kept up to date: most
// pixels stay that way.
enum class Colours : char { untouched, one, many };

using Channel = std::array<float, samples::n>;
struct Pixel {
  Channel z, r, g, b;
  samples::Mask layer;  // the last translucent one, 0 for none
};

// Samples of the pixel that a layer may still colour. Loops over samples are written without
// branches, so that the compiler turns them into vector instructions.
bool keeps_front(const Pixel& pixel, const Channel& z, const RasterLayer& layer,
                 std::int32_t number, samples::Mask& mask) {
  if (layer.hides) {
    for (std::size_t s = 0; s < samples::n; ++s) mask[s] &= z[s] > pixel.z[s] ? -1 : 0;
  } else {
    for (std::size_t s = 0; s < samples::n; ++s) {
      mask[s] &= (z[s] >= pixel.z[s] ? -1 : 0) & (pixel.layer[s] != number ? -1 : 0);
    }
  }
  return samples::any(mask);
}

void lay_over(Channel& channel, const samples::Mask& mask, float value, float share) {
  for (std::size_t s = 0; s < samples::n; ++s) {
    const float mixed = share * value + (1 - share) * channel[s];
    channel[s] = mask[s] != 0 ? mixed : channel[s];
  }
}

void lay_over(Pixel& pixel, Colours& colours, const samples::Mask& mask, const Rgba& c) {
  const std::array<std::pair<Channel*, float>, 3> channels{
      {{&pixel.r, c.r}, {&pixel.g, c.g}, {&pixel.b, c.b}}};
  if (colours == Colours::one && samples::all(mask)) {
    for (const auto& [channel, value] : channels) {
      channel->front() = c.a * value + (1 - c.a) * channel->front();
    }
    return;
  }
  for (const auto& [channel, value] : channels) {
    if (colours == Colours::one) channel->fill(channel->front());
    lay_over(*channel, mask, value, c.a);
  }
  colours = Colours::many;
}

std::uint8_t coded(float value) { return static_cast<std::uint8_t>(255 * value + 0.5F); }

// The samples of a few rows, used again for one band after the other. A pixel is set up when it
// is first touched.
class Band {
 public:
  void begin(PixelRect area) {
    area_ = area;
    const std::size_t n =
        static_cast<std::size_t>(area.width()) * static_cast<std::size_t>(area.height());
    pixels_.resize(n);
    colours_.assign(n, Colours::untouched);
  }

  void draw(const Image& image, const RasterLayer& layer, const Triangle& t, std::int32_t number) {
    const PixelRect box{std::max(t.bounds().left, area_.left), std::max(t.bounds().top, area_.top),
                        std::min(t.bounds().right, area_.right),
                        std::min(t.bounds().bottom, area_.bottom)};
    samples::Mask mask;
    for (int y = box.top; y < box.bottom; ++y) {
      Triangle::EdgeValues edges = t.edges_at(box.left, y);
      for (int x = box.left; x < box.right; ++x) {
        if (t.covers(edges, mask)) colour_pixel(image, layer, t, number, x, y, edges, mask);
        for (std::size_t k = 0; k < 3; ++k) edges[k] += t.edge_step(k);
      }
    }
  }

  void finish(Image& image, DepthMap& depth) const {
    for (int y = area_.top; y < area_.bottom; ++y) {
      for (int x = area_.left; x < area_.right; ++x) {
        const Colours colours = colours_[index(x, y)];
        if (colours == Colours::untouched) continue;
        const Pixel& p = pixels_[index(x, y)];
        const auto seen = [&](const Channel& channel) {
          if (colours == Colours::one) return coded(channel.front());
          float sum = 0;
          for (const float value : channel) sum += value;
          return coded(sum / samples::n);
        };
        image.set(x, y, {seen(p.r), seen(p.g), seen(p.b)});
        depth.set(x, y, *std::max_element(p.z.begin(), p.z.end()));
      }
    }
  }

 private:
  void colour_pixel(const Image& image, const RasterLayer& layer, const Triangle& t,
                    std::int32_t number, int x, int y, const Triangle::EdgeValues& edges,
                    samples::Mask& mask) {
    Pixel& pixel = pixels_[index(x, y)];
    Colours& colours = colours_[index(x, y)];
    if (colours == Colours::untouched) {
      const Rgba under = with_cover(image.at(x, y), 1);
      pixel.z.fill(DepthMap::nothing);
      pixel.r.front() = under.r;
      pixel.g.front() = under.g;
      pixel.b.front() = under.b;
      pixel.layer.fill(0);
      colours = Colours::one;
    }
    const auto z = t.depth_at(x, y);
    if (!keeps_front(pixel, z, layer, number, mask)) return;
    const Fragment fragment = t.fragment_at(x, y, edges);
    const Rgba colour = layer.paint ? layer.paint(fragment) : fragment.colour;
    if (colour.a < 1.0F / 255) return;
    lay_over(pixel, colours, mask, colour);
    if (layer.hides) {
      for (std::size_t s = 0; s < samples::n; ++s) {
        pixel.z[s] = mask[s] != 0 ? z[s] : pixel.z[s];
      }
    } else {
      for (std::size_t s = 0; s < samples::n; ++s) {
        pixel.layer[s] = mask[s] != 0 ? number : pixel.layer[s];
      }
    }
  }

  [[nodiscard]] std::size_t index(int x, int y) const {
    return static_cast<std::size_t>(y - area_.top) * static_cast<std::size_t>(area_.width()) +
           static_cast<std::size_t>(x - area_.left);
  }

  PixelRect area_;
  std::vector<Pixel> pixels_;
  std::vector<Colours> colours_;
};

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
  Band band;
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
