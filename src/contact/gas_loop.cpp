#include "contact/gas_loop.hpp"

#include <cassert>

namespace rimload {

LoopThrust loop_thrust(std::span<const Vec3> corners, double pressure) {
  const std::size_t n = corners.size();
  assert(n >= 3);
  LoopThrust out;
  out.by_corner.assign(n, Eigen::Matrix<double, 6, 3>::Zero());
  const double half = pressure / 2;
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t next = (i + 1) % n;
    const Vec3& a = corners[i];
    const Vec3& b = corners[next];
    const Vec3 edge = b - a;
    // The integral of |r|^2 along a straight edge is edge * (a.a + a.b + b.b)/3.
    const double mean_square = (a.squaredNorm() + a.dot(b) + b.squaredNorm()) / 3;
    out.force += half * a.cross(b);
    out.moment -= half * mean_square * edge;
    out.by_corner[i].topRows<3>() -= half * cross_matrix(b);
    out.by_corner[next].topRows<3>() += half * cross_matrix(a);
    const Mat3 along = mean_square * Mat3::Identity();
    out.by_corner[i].bottomRows<3>() -= half * (-along + edge * (2 * a + b).transpose() / 3);
    out.by_corner[next].bottomRows<3>() -= half * (along + edge * (2 * b + a).transpose() / 3);
  }
  return out;
}

}  // namespace rimload
