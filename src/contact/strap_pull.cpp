#include "contact/strap_pull.hpp"

#include <cmath>

namespace rimload {

BandTension band_tension(const Band& band, double length_mm) {
  const double x = length_mm - band.slack_length_mm;
  const double k = band.stiffness_n_mm;
  if (x <= 0) return {};
  if (x < band_blend_mm) return {k * x * x / (2 * band_blend_mm), k * x / band_blend_mm};
  return {k * (x - band_blend_mm / 2), k};
}

Band band_with_tension(double stiffness_n_mm, double tension_n, double length_mm) {
  const double at_blend = stiffness_n_mm * band_blend_mm / 2;
  const double stretch = tension_n < at_blend
                             ? std::sqrt(2 * band_blend_mm * tension_n / stiffness_n_mm)
                             : tension_n / stiffness_n_mm + band_blend_mm / 2;
  return {stiffness_n_mm, length_mm - stretch};
}

Wrench strap_pull(const Band& band, const Vec3& anchor, const Vec3& exit) {
  const Vec3 course = exit - anchor;
  const double length = course.norm();
  const Vec3 d = course / length;
  const auto [tension, slope] = band_tension(band, length);
  const Vec3 force = tension * d;
  // d(force)/d(anchor) = -(k d d' + T/L (1 - d d')); the anchor moves by shift + turn x anchor.
  const Mat3 dd = d * d.transpose();
  const Mat3 stiffness = -(slope * dd + tension / length * (Mat3::Identity() - dd));
  const Mat3 arm = cross_matrix(anchor);
  Wrench out;
  out.value << force, anchor.cross(force);
  out.slope.topLeftCorner<3, 3>() = stiffness;
  out.slope.topRightCorner<3, 3>() = -stiffness * arm;
  out.slope.bottomLeftCorner<3, 3>() = arm * stiffness;
  out.slope.bottomRightCorner<3, 3>() = -arm * stiffness * arm + cross_matrix(force) * arm;
  return out;
}

}  // namespace rimload
