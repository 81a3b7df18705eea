#include "geometry/similarity.hpp"

#include <Eigen/Geometry>
#include <Eigen/SVD>
#include <cmath>

namespace rimload {

Similarity similarity(const Eigen::Matrix3Xd& from, const Eigen::Matrix3Xd& to) {
  const Eigen::Matrix4d transform = Eigen::umeyama(from, to, true);
  Similarity out;
  const Mat3 turned = transform.topLeftCorner<3, 3>();
  out.scale = std::cbrt(turned.determinant());
  out.rotation = turned / out.scale;
  out.shift = transform.topRightCorner<3, 1>();
  const Eigen::Matrix3Xd miss = ((turned * from).colwise() + out.shift) - to;
  out.rms_mm = std::sqrt(miss.colwise().squaredNorm().mean());
  return out;
}

Mat3 turn_onto(const Vec3& from, const Vec3& to) {
  return Eigen::Quaterniond::FromTwoVectors(from, to).toRotationMatrix();
}

}  // namespace rimload
