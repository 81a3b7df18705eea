#include "contact/gas_loop.hpp"

#include <cassert>

namespace rimload {

namespace {
// Of |r|^2 along a straight edge.
double mean_square(const Vec3& a, const Vec3& b) {
  return (a.squaredNorm() + a.dot(b) + b.squaredNorm()) / 3;
}
}  // namespace

LoopThrust loop_thrust(std::span<const Vec3> corners, double pressure) {
  const std::size_t n = corners.size();
  assert(n >= 3);
  LoopThrust out;
  const double half = pressure / 2;
  for (std::size_t i = 0; i < n; ++i) {
    const Vec3& a = corners[i];
    const Vec3& b = corners[i + 1 == n ? 0 : i + 1];
    out.force += half * a.cross(b);
    out.moment -= half * mean_square(a, b) * (b - a);
  }
  return out;
}

std::vector<Eigen::Matrix<double, 6, 3>> loop_thrust_by_corner(std::span<const Vec3> corners,
                                                               double pressure) {
  const std::size_t n = corners.size();
  assert(n >= 3);
  std::vector<Eigen::Matrix<double, 6, 3>> out(n, Eigen::Matrix<double, 6, 3>::Zero());
  const double half = pressure / 2;
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t next = (i + 1) % n;
    const Vec3& a = corners[i];
    const Vec3& b = corners[next];
    const Vec3 edge = b - a;
    out[i].topRows<3>() -= half * cross_matrix(b);
    out[next].topRows<3>() += half * cross_matrix(a);
    const Mat3 along = mean_square(a, b) * Mat3::Identity();
    out[i].bottomRows<3>() -= half * (-along + edge * (2 * a + b).transpose() / 3);
    out[next].bottomRows<3>() -= half * (along + edge * (2 * b + a).transpose() / 3);
  }
  return out;
}

}  // namespace rimload
