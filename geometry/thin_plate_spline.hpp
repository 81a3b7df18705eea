// A smooth function of the plane through scattered values.
#pragma once

#include <Eigen/Core>

#include "geometry/vec.hpp"

namespace rimload {

/// Thin-plate spline s(x) = a0 + a1 x + a2 y + sum_k w_k |x - x_k|^2 log|x - x_k|
/// [Wahba 1990, section 2.4], with the weights from (K + smoothing I) w + P a = f, P' w = 0.
class ThinPlateSpline {
 public:
  /// @param points 2 x n, distinct and not on one line [mm]
  /// @param values n
  /// @param smoothing added to the diagonal of K; 0 interpolates [mm2]
  /// @pre n >= 3
  ThinPlateSpline(const Eigen::Matrix2Xd& points, const Eigen::VectorXd& values, double smoothing);

  /// The spline's value at each of the points (x, y_k).
  /// @param x one coordinate [mm]; @param y m other coordinates [mm]
  [[nodiscard]] Eigen::ArrayXd along_line(double x, const Eigen::ArrayXd& y) const;
  [[nodiscard]] double at(double x, double y) const;

 private:
  Eigen::ArrayXd x_, y_, weights_;
  Vec3 plane_ = Vec3::Zero();
};

}  // namespace rimload
