#include "report/sample_band.hpp"

#include <algorithm>
#include <utility>

namespace rimload {

namespace {
std::uint8_t coded(float value) { return static_cast<std::uint8_t>(255 * value + 0.5F); }
}  // namespace

// Loops over samples are written without branches, so that the compiler turns them into vector
// instructions.

void SampleBand::begin(PixelRect rows) {
  rows_ = rows;
  const std::size_t n =
      static_cast<std::size_t>(rows.width()) * static_cast<std::size_t>(rows.height());
  pixels_.resize(n);
  colours_.assign(n, Colours::untouched);
}

void SampleBand::set_up(Pixel& pixel, Rgb under) {
  const Rgba colour = with_cover(under, 1);
  pixel.z.fill(DepthMap::nothing);
  pixel.r.front() = colour.r;
  pixel.g.front() = colour.g;
  pixel.b.front() = colour.b;
  pixel.layer.fill(0);
}

bool SampleBand::keeps_front(const Pixel& pixel, const Channel& z, const RasterLayer& layer,
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

void SampleBand::lay_over(Pixel& pixel, Colours& colours, const samples::Mask& mask,
                          const Rgba& c) {
  const std::array<std::pair<Channel*, float>, 3> channels{
      {{&pixel.r, c.r}, {&pixel.g, c.g}, {&pixel.b, c.b}}};
  if (colours == Colours::one && samples::all(mask)) {
    for (const auto& [channel, value] : channels) {
      channel->front() = c.a * value + (1 - c.a) * channel->front();
    }
    return;
  }
  for (const auto& [to, value] : channels) {
    Channel& channel = *to;
    if (colours == Colours::one) channel.fill(channel.front());
    for (std::size_t s = 0; s < samples::n; ++s) {
      const float mixed = c.a * value + (1 - c.a) * channel[s];
      channel[s] = mask[s] != 0 ? mixed : channel[s];
    }
  }
  colours = Colours::many;
}

void SampleBand::colour_pixel(const Image& image, const RasterLayer& layer, const Triangle& t,
                              std::int32_t number, int x, int y, const Triangle::EdgeValues& edges,
                              samples::Mask& mask) {
  Pixel& pixel = pixels_[index(x, y)];
  Colours& colours = colours_[index(x, y)];
  if (colours == Colours::untouched) {
    set_up(pixel, image.at(x, y));
    colours = Colours::one;
  }
  const Channel z = t.depth_at(x, y);
  if (!keeps_front(pixel, z, layer, number, mask)) return;
  const Fragment fragment = t.fragment_at(x, y, edges);
  const Rgba colour = layer.paint ? layer.paint(fragment) : fragment.colour;
  if (colour.a < 1.0F / 255) return;
  lay_over(pixel, colours, mask, colour);
  for (std::size_t s = 0; s < samples::n; ++s) {
    if (layer.hides) {
      pixel.z[s] = mask[s] != 0 ? z[s] : pixel.z[s];
    } else {
      pixel.layer[s] = mask[s] != 0 ? number : pixel.layer[s];
    }
  }
}

void SampleBand::draw(const Image& image, const RasterLayer& layer, const Triangle& t,
                      std::int32_t number) {
  const PixelRect box{std::max(t.bounds().left, rows_.left), std::max(t.bounds().top, rows_.top),
                      std::min(t.bounds().right, rows_.right),
                      std::min(t.bounds().bottom, rows_.bottom)};
  samples::Mask mask;
  for (int y = box.top; y < box.bottom; ++y) {
    Triangle::EdgeValues edges = t.edges_at(box.left, y);
    for (int x = box.left; x < box.right; ++x) {
      if (t.covers(edges, mask)) colour_pixel(image, layer, t, number, x, y, edges, mask);
      for (std::size_t k = 0; k < 3; ++k) edges[k] += t.edge_step(k);
    }
  }
}

void SampleBand::finish(Image& image, DepthMap& depth) const {
  for (int y = rows_.top; y < rows_.bottom; ++y) {
    for (int x = rows_.left; x < rows_.right; ++x) {
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

}  // namespace rimload
