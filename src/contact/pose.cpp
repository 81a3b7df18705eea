#include "contact/pose.hpp"

namespace rimload {

Mat3 rotation_from_vector(const Vec3& turn_rad) {
  const double angle = turn_rad.norm();
  if (angle < 1e-300) return Mat3::Identity();
  return Eigen::AngleAxisd(angle, turn_rad / angle).toRotationMatrix();
}

Vec3 Pose::rotation_vector() const {
  const Eigen::AngleAxisd turn(rotation);
  return turn.angle() * turn.axis();
}

Pose Pose::moved(const Vec3& shift, const Vec3& turn_rad, const Vec3& about_mask) const {
  const Vec3 about_face = *this * about_mask;
  const Mat3 turn = rotation_from_vector(turn_rad);
  Pose out;
  out.rotation = turn * rotation;
  // Products of rotations drift from orthogonality by rounding; bring them back.
  out.rotation = Eigen::Quaterniond(out.rotation).normalized().toRotationMatrix();
  out.translation_mm = about_face + shift - out.rotation * about_mask;
  return out;
}

}  // namespace rimload
