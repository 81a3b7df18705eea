#include "report/image.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace rimload {

Image::Image(int width_px, int height_px, Rgb background) : width(width_px), height(height_px) {
  assert(width_px > 0 && height_px > 0);
  rgb.resize(3 * static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
  for (std::size_t k = 0; k < rgb.size(); k += 3) {
    rgb[k] = background.r;
    rgb[k + 1] = background.g;
    rgb[k + 2] = background.b;
  }
}

void Image::blend(int x, int y, Rgb colour, float cover) {
  if (x < 0 || y < 0 || x >= width || y >= height || cover <= 0) return;
  const float rest = 1 - cover;
  const auto mix = [&](std::uint8_t over, std::uint8_t under) {
    return static_cast<std::uint8_t>(static_cast<float>(over) * cover +
                                     static_cast<float>(under) * rest + 0.5F);
  };
  const Rgb under = at(x, y);
  set(x, y, {mix(colour.r, under.r), mix(colour.g, under.g), mix(colour.b, under.b)});
}

void fill_box(Image& image, const Box& box, Rgb colour, double corner_radius_px) {
  const Vec2 centre = box.centre();
  const double radius = std::min({corner_radius_px, 0.5 * box.width(), 0.5 * box.height()});
  const int top = std::max(0, static_cast<int>(std::floor(box.top)));
  const int bottom = std::min(image.height, static_cast<int>(std::ceil(box.bottom)));
  const int left = std::max(0, static_cast<int>(std::floor(box.left)));
  const int right = std::min(image.width, static_cast<int>(std::ceil(box.right)));
  for (int y = top; y < bottom; ++y) {
    for (int x = left; x < right; ++x) {
      const double dx = std::abs(x + 0.5 - centre.x()) - 0.5 * box.width() + radius;
      const double dy = std::abs(y + 0.5 - centre.y()) - 0.5 * box.height() + radius;
      const double outside = std::hypot(std::max(dx, 0.0), std::max(dy, 0.0)) +
                             std::min(std::max(dx, dy), 0.0) - radius;
      image.blend(x, y, colour, static_cast<float>(std::clamp(0.5 - outside, 0.0, 1.0)));
    }
  }
}

}  // namespace rimload
