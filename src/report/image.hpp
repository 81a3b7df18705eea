// A picture in memory, and where things lie on it.
#pragma once

#include <cstdint>
#include <vector>

#include "geometry/vec.hpp"
#include "report/colour.hpp"

namespace rimload {

/// Pixels of 8-bit sRGB, rows from the top, without transparency.
struct Image {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> rgb;  ///< 3 x width x height

  Image() = default;
  Image(int width_px, int height_px, Rgb background);

  [[nodiscard]] Rgb at(int x, int y) const {
    const std::size_t k = index(x, y);
    return {rgb[k], rgb[k + 1], rgb[k + 2]};
  }
  void set(int x, int y, Rgb colour) {
    const std::size_t k = index(x, y);
    rgb[k] = colour.r;
    rgb[k + 1] = colour.g;
    rgb[k + 2] = colour.b;
  }
  /// Lays a colour over a pixel; nothing happens outside the picture.
  /// @param cover 0 leaves the pixel as it is, 1 replaces it
  void blend(int x, int y, Rgb colour, float cover);

 private:
  [[nodiscard]] std::size_t index(int x, int y) const {
    return 3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                static_cast<std::size_t>(x));
  }
};

/// A rectangle on a picture, edges in pixels, y downwards; pixel (i, j) covers i to i + 1, j to
/// j + 1.
struct Box {
  double left = 0;
  double top = 0;
  double right = 0;
  double bottom = 0;

  [[nodiscard]] double width() const { return right - left; }
  [[nodiscard]] double height() const { return bottom - top; }
  [[nodiscard]] Vec2 centre() const { return {0.5 * (left + right), 0.5 * (top + bottom)}; }
  [[nodiscard]] bool overlaps(const Box& other) const {
    return left < other.right && other.left < right && top < other.bottom && other.top < bottom;
  }
  [[nodiscard]] bool holds(const Box& other) const {
    return left <= other.left && top <= other.top && right >= other.right && bottom >= other.bottom;
  }
};

/// Fills a box with rounded corners, edges antialiased.
void fill_box(Image& image, const Box& box, Rgb colour, double corner_radius_px = 0);

}  // namespace rimload
