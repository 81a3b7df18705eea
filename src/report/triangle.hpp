// Which samples of which pixels a triangle covers, and its values there.
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>

#include "report/fragment.hpp"

namespace rimload {

/// Where the 8 samples of a pixel lie, in 1/16 px: no two in a row or a column, so that edges of
/// any direction get all shades.
namespace samples {
inline constexpr std::size_t n = 8;
inline constexpr int per_px = 16;
inline constexpr std::array<int, n> x{9, 7, 13, 5, 3, 1, 11, 15};
inline constexpr std::array<int, n> y{5, 11, 9, 3, 13, 7, 15, 1};

using Mask = std::array<std::int32_t, n>;  ///< -1 or 0 for each sample
[[nodiscard]] inline bool any(const Mask& mask) {
  std::int32_t found = 0;
  for (const std::int32_t m : mask) found |= m;
  return found != 0;
}
[[nodiscard]] inline bool all(const Mask& mask) {
  std::int32_t kept = -1;
  for (const std::int32_t m : mask) kept &= m;
  return kept != 0;
}
}  // namespace samples

/// A triangle on the raster, corners rounded to 1/16 px.
///
/// With corners in clockwise order as seen, edge k lies opposite corner k and
/// E(x, y) = (q - p) x ((x, y) - p) is positive inside. It is exact in integers, and a sample on
/// an edge belongs to the triangle for which that edge is a top or left one, so that triangles
/// sharing an edge neither gap nor overlap. E_k / (E_0 + E_1 + E_2) is the weight of corner k.
class Triangle {
 public:
  using EdgeValues = std::array<std::int64_t, 3>;

  /// The corners must outlive the triangle.
  Triangle(const RasterVertex& a, const RasterVertex& b, const RasterVertex& c, Faces faces);

  /// False when it has no area or turns its back although only faces are asked for.
  [[nodiscard]] bool is_seen() const { return per_area_ > 0; }
  /// Pixels that it can touch.
  [[nodiscard]] const PixelRect& bounds() const { return bounds_; }

  /// The three edge functions at the upper left corner of a pixel, in 1/256 px2.
  [[nodiscard]] EdgeValues edges_at(int x, int y) const {
    EdgeValues value{};
    for (std::size_t k = 0; k < 3; ++k) {
      value[k] = edges_[k].at_origin + static_cast<std::int64_t>(edges_[k].dx) * 16 * x +
                 static_cast<std::int64_t>(edges_[k].dy) * 16 * y;
    }
    return value;
  }
  /// How one pixel's edge values change to the next one in the row.
  [[nodiscard]] std::int64_t edge_step(std::size_t edge) const {
    return static_cast<std::int64_t>(edges_[edge].dx) * samples::per_px;
  }
  /// Samples inside; false when there are none.
  [[nodiscard]] bool covers(const EdgeValues& at_pixel, samples::Mask& inside) const {
    inside.fill(-1);
    for (std::size_t k = 0; k < 3; ++k) {
      const Edge& edge = edges_[k];
      if (at_pixel[k] + edge.least >= 0) continue;
      if (at_pixel[k] + edge.most < 0) return false;
      const auto base = static_cast<std::int32_t>(at_pixel[k]);  // small: an edge is near
      for (std::size_t s = 0; s < samples::n; ++s) {
        inside[s] &= base + edge.offset[s] >= 0 ? -1 : 0;
      }
    }
    return samples::any(inside);
  }
  /// Depth at each sample of a pixel [mm].
  [[nodiscard]] std::array<float, samples::n> depth_at(int x, int y) const {
    const auto base = static_cast<float>(z_origin_ + z_dx_ * x + z_dy_ * y);
    std::array<float, samples::n> z{};
    for (std::size_t s = 0; s < samples::n; ++s) {
      z[s] = std::min(std::max(base + z_offset_[s], z_least_), z_most_);
    }
    return z;
  }
  /// Values at a pixel's centre, or at the edge nearest to it where that lies outside.
  [[nodiscard]] Fragment fragment_at(int x, int y, const EdgeValues& at_pixel) const;

 private:
  struct Edge {
    std::int64_t at_origin;
    std::int32_t dx, dy;  // per 1/16 px
    std::array<std::int32_t, samples::n> offset;
    std::int32_t least, most;  // of the offsets
  };
  struct Corner {
    std::int64_t x, y;
  };
  static Corner rounded(const RasterVertex& v);
  static Edge edge_between(Corner p, Corner q);

  std::array<const RasterVertex*, 3> corner_{};
  std::array<Edge, 3> edges_{};
  double per_area_ = 0;
  double z_origin_ = 0;
  double z_dx_ = 0;
  double z_dy_ = 0;
  std::array<float, samples::n> z_offset_{};
  float z_least_ = 0;
  float z_most_ = 0;
  PixelRect bounds_;
};

}  // namespace rimload
