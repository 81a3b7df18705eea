#include "report/colour_scale.hpp"

#include <algorithm>
#include <cassert>

namespace rimload {

namespace {

constexpr std::size_t curve_pieces = 256;

// (a, b) from aqua, round blue and violet, to wine red.
Vec2 bezier(double s) {
  const Vec2 p0(-0.070, -0.020);
  const Vec2 p1(-0.050, -0.185);
  const Vec2 p2(0.165, -0.185);
  const Vec2 p3(0.110, 0.022);
  const double r = 1 - s;
  return r * r * r * p0 + 3 * r * r * s * p1 + 3 * r * s * s * p2 + s * s * s * p3;
}

// Length of the curve up to each of its equal parameter steps.
std::array<double, curve_pieces + 1> curve_lengths() {
  std::array<double, curve_pieces + 1> length{};
  for (std::size_t k = 1; k <= curve_pieces; ++k) {
    const double s = static_cast<double>(k) / curve_pieces;
    length[k] = length[k - 1] + (bezier(s) - bezier(s - 1.0 / curve_pieces)).norm();
  }
  return length;
}

}  // namespace

Vec3 pressure_oklab(double fraction) {
  static const auto length = curve_lengths();
  const double t = std::clamp(fraction, 0.0, 1.0);
  const double target = t * length.back();
  const auto above = std::lower_bound(length.begin() + 1, length.end() - 1, target);
  const auto k = static_cast<std::size_t>(above - length.begin());
  const double part = (target - length[k - 1]) / (length[k] - length[k - 1]);
  const Vec2 ab = bezier((static_cast<double>(k - 1) + part) / curve_pieces);
  const double l = ColourScale::lightness_at_zero +
                   (ColourScale::lightness_at_end - ColourScale::lightness_at_zero) * t;
  return {l, ab.x(), ab.y()};
}

ColourScale::ColourScale(double max_mmhg) : max_mmhg_(max_mmhg), per_mmhg_(last / max_mmhg) {
  assert(max_mmhg > 0);
  for (std::size_t k = 0; k < table_.size(); ++k) {
    table_[k] = rgb_from_linear(linear_from_oklab(pressure_oklab(static_cast<double>(k) / last)));
  }
}

}  // namespace rimload
