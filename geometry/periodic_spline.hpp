// A closed smooth curve through a few control values.
#pragma once

#include <Eigen/Core>

namespace rimload {

/// Periodic cubic spline through n control vectors of any dimension, C2.
///
/// The second derivatives M_k at the knots solve
/// h_{k-1} M_{k-1} + 2 (h_{k-1} + h_k) M_k + h_k M_{k+1} = 6 (slope_k - slope_{k-1})
/// [de Boor 1978, chapter IV], closed cyclically.
class PeriodicSpline {
 public:
  PeriodicSpline() = default;
  /// @param values dim x n, n >= 3; @param knots n + 1 strictly increasing parameters, of which
  /// the last stands for the first value again.
  PeriodicSpline(Eigen::MatrixXd values, Eigen::VectorXd knots);

  [[nodiscard]] Eigen::VectorXd at(double parameter) const;
  [[nodiscard]] Eigen::VectorXd slope(double parameter) const;
  [[nodiscard]] double first_parameter() const { return knots_[0]; }
  [[nodiscard]] double period() const { return knots_[knots_.size() - 1] - knots_[0]; }

 private:
  struct Piece {
    Eigen::Index low, high;
    double width, a, b;  ///< b = fraction passed, a = 1 - b
  };
  [[nodiscard]] Piece piece(double parameter) const;

  Eigen::MatrixXd values_, second_;
  Eigen::VectorXd knots_;
};

}  // namespace rimload
