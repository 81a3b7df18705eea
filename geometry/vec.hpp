// Small vectors and matrices. Facial frame: origin at sellion, x to the wearer's left, y up,
// z forward; lengths in mm. A suffix names the frame: `_face`, `_mask`.
#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>

namespace rimload {

using Vec2 = Eigen::Vector2d;
using Vec3 = Eigen::Vector3d;
using Mat2 = Eigen::Matrix2d;
using Mat3 = Eigen::Matrix3d;
using Mat23 = Eigen::Matrix<double, 2, 3>;

/// The matrix S with S b = a x b.
[[nodiscard]] inline Mat3 cross_matrix(const Vec3& a) {
  Mat3 s;
  s << 0, -a.z(), a.y(), a.z(), 0, -a.x(), -a.y(), a.x(), 0;
  return s;
}

}  // namespace rimload
