// The turn, scale and shift that lay points on others.
#pragma once

#include "geometry/vec.hpp"

namespace rimload {

struct Similarity {
  double scale = 1;
  Mat3 rotation = Mat3::Identity();
  Vec3 shift = Vec3::Zero();
  double rms_mm = 0;  ///< of what is left between the points
};

/// Of least squares (Umeyama 1991, cited from memory): to = scale rotation from + shift.
/// @pre as many points in both, three or more not on a line
[[nodiscard]] Similarity similarity(const Eigen::Matrix3Xd& from, const Eigen::Matrix3Xd& to);

/// Turns one unit vector onto another the short way.
[[nodiscard]] Mat3 turn_onto(const Vec3& from, const Vec3& to);

}  // namespace rimload
