// Colours and how they are seen.
#pragma once

#include <cstdint>

#include "geometry/vec.hpp"

namespace rimload {

/// 8-bit sRGB [IEC 61966-2-1].
struct Rgb {
  std::uint8_t r = 0;
  std::uint8_t g = 0;
  std::uint8_t b = 0;
  friend bool operator==(Rgb, Rgb) = default;
};

/// sRGB with cover, each 0 to 1, not premultiplied.
struct Rgba {
  float r = 0;
  float g = 0;
  float b = 0;
  float a = 1;
};

[[nodiscard]] inline Rgba with_cover(Rgb colour, float cover) {
  constexpr float scale = 1.0F / 255;
  return {static_cast<float>(colour.r) * scale, static_cast<float>(colour.g) * scale,
          static_cast<float>(colour.b) * scale, cover};
}

/// Linear light of a coded sRGB value and back, each 0 to 1 [IEC 61966-2-1].
[[nodiscard]] double decode_srgb(double coded);
[[nodiscard]] double encode_srgb(double linear);

/// (L, a, b) of OKLab, where equal distances look about equally different [Ottosson 2020].
/// L runs from 0 (black) to 1 (white).
[[nodiscard]] Vec3 oklab_from_linear(const Vec3& linear_rgb);
[[nodiscard]] Vec3 linear_from_oklab(const Vec3& lab);
[[nodiscard]] Vec3 oklab(Rgb colour);

/// Linear light of a colour, each 0 to 1.
[[nodiscard]] Vec3 linear_rgb(Rgb colour);
/// The nearest 8-bit colour; light outside 0 to 1 is clipped.
[[nodiscard]] Rgb rgb_from_linear(const Vec3& linear);

/// (L1 + 0.05)/(L2 + 0.05) with L the relative luminance, the lighter on top, 1 to 21
/// [WCAG 2.1, definition of contrast ratio].
[[nodiscard]] double contrast_ratio(Rgb one, Rgb other);

}  // namespace rimload
