#include "geometry/periodic_spline.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cassert>
#include <cmath>

namespace rimload {

PeriodicSpline::PeriodicSpline(Eigen::MatrixXd values, Eigen::VectorXd knots)
    : values_(std::move(values)), knots_(std::move(knots)) {
  const Eigen::Index n = values_.cols();
  assert(n >= 3 && knots_.size() == n + 1);
  const auto width = [&](Eigen::Index k) { return knots_[k % n + 1] - knots_[k % n]; };
  Eigen::MatrixXd system = Eigen::MatrixXd::Zero(n, n);
  Eigen::MatrixXd right(n, values_.rows());
  for (Eigen::Index k = 0; k < n; ++k) {
    const Eigen::Index before = (k + n - 1) % n;
    const Eigen::Index after = (k + 1) % n;
    system(k, before) += width(before);
    system(k, k) += 2 * (width(before) + width(k));
    system(k, after) += width(k);
    right.row(k) = 6 * ((values_.col(after) - values_.col(k)) / width(k) -
                        (values_.col(k) - values_.col(before)) / width(before))
                           .transpose();
  }
  second_ = system.partialPivLu().solve(right).transpose();
}

PeriodicSpline::Piece PeriodicSpline::piece(double parameter) const {
  const Eigen::Index n = values_.cols();
  double p = std::fmod(parameter - knots_[0], period());
  if (p < 0) p += period();
  p += knots_[0];
  const double* begin = knots_.data();
  const auto* found = std::upper_bound(begin, begin + n + 1, p);
  const auto low = std::clamp<Eigen::Index>(found - begin - 1, 0, n - 1);
  const double h = knots_[low + 1] - knots_[low];
  const double b = (p - knots_[low]) / h;
  return {low, (low + 1) % n, h, 1 - b, b};
}

Eigen::VectorXd PeriodicSpline::at(double parameter) const {
  const auto [low, high, h, a, b] = piece(parameter);
  return a * values_.col(low) + b * values_.col(high) +
         h * h / 6 * ((a * a * a - a) * second_.col(low) + (b * b * b - b) * second_.col(high));
}

Eigen::VectorXd PeriodicSpline::slope(double parameter) const {
  const auto [low, high, h, a, b] = piece(parameter);
  return (values_.col(high) - values_.col(low)) / h +
         h / 6 * ((1 - 3 * a * a) * second_.col(low) + (3 * b * b - 1) * second_.col(high));
}

}  // namespace rimload
