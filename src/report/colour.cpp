#include "report/colour.hpp"

#include <algorithm>
#include <cmath>

namespace rimload {

namespace {

// Matrices of OKLab [Ottosson 2020].
const Mat3& cones_from_rgb() {
  static const Mat3 m = (Mat3() << 0.4122214708, 0.5363325363, 0.0514459929,  //
                         0.2119034982, 0.6806995451, 0.1073969566,            //
                         0.0883024619, 0.2817188376, 0.6299787005)
                            .finished();
  return m;
}
const Mat3& lab_from_roots() {
  static const Mat3 m = (Mat3() << 0.2104542553, 0.7936177850, -0.0040720468,  //
                         1.9779984951, -2.4285922050, 0.4505937099,            //
                         0.0259040371, 0.7827717662, -0.8086757660)
                            .finished();
  return m;
}

double luminance(Rgb colour) { return Vec3(0.2126, 0.7152, 0.0722).dot(linear_rgb(colour)); }

}  // namespace

double decode_srgb(double coded) {
  return coded <= 0.04045 ? coded / 12.92 : std::pow((coded + 0.055) / 1.055, 2.4);
}

double encode_srgb(double linear) {
  return linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1 / 2.4) - 0.055;
}

Vec3 oklab_from_linear(const Vec3& linear_rgb) {
  const Vec3 cones = cones_from_rgb() * linear_rgb;
  return lab_from_roots() * cones.unaryExpr([](double c) { return std::cbrt(c); });
}

Vec3 linear_from_oklab(const Vec3& lab) {
  static const Mat3 roots_from_lab = lab_from_roots().inverse();
  static const Mat3 rgb_from_cones = cones_from_rgb().inverse();
  const Vec3 roots = roots_from_lab * lab;
  return rgb_from_cones * roots.unaryExpr([](double r) { return r * r * r; });
}

Vec3 oklab(Rgb colour) { return oklab_from_linear(linear_rgb(colour)); }

Vec3 linear_rgb(Rgb colour) {
  return {decode_srgb(colour.r / 255.0), decode_srgb(colour.g / 255.0),
          decode_srgb(colour.b / 255.0)};
}

Rgb rgb_from_linear(const Vec3& linear) {
  const auto code = [](double value) {
    return static_cast<std::uint8_t>(
        std::lround(255 * std::clamp(encode_srgb(std::clamp(value, 0.0, 1.0)), 0.0, 1.0)));
  };
  return {code(linear.x()), code(linear.y()), code(linear.z())};
}

double contrast_ratio(Rgb one, Rgb other) {
  const double a = luminance(one);
  const double b = luminance(other);
  return (std::max(a, b) + 0.05) / (std::min(a, b) + 0.05);
}

}  // namespace rimload
