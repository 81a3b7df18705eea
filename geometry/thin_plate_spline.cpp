#include "geometry/thin_plate_spline.hpp"

#include <Eigen/LU>
#include <cassert>
#include <limits>

namespace rimload {

namespace {
constexpr double tiny = std::numeric_limits<double>::min();

// r^2 log r from the squared distance, 0 at 0.
template <typename Array>
auto kernel(const Array& squared) {
  return 0.5 * squared * (squared + tiny).log();
}
}  // namespace

ThinPlateSpline::ThinPlateSpline(const Eigen::Matrix2Xd& points, const Eigen::VectorXd& values,
                                 double smoothing)
    : x_(points.row(0).transpose().array()), y_(points.row(1).transpose().array()) {
  const Eigen::Index n = points.cols();
  assert(n >= 3 && values.size() == n);
  Eigen::MatrixXd system = Eigen::MatrixXd::Zero(n + 3, n + 3);
  for (Eigen::Index k = 0; k < n; ++k) {
    const Eigen::ArrayXd squared = (x_ - x_[k]).square() + (y_ - y_[k]).square();
    system.col(k).head(n) = kernel(squared);
    system(k, k) = smoothing;
  }
  system.col(n).head(n).setOnes();
  system.col(n + 1).head(n) = x_;
  system.col(n + 2).head(n) = y_;
  system.bottomRows(3).leftCols(n) = system.rightCols(3).topRows(n).transpose();
  Eigen::VectorXd right = Eigen::VectorXd::Zero(n + 3);
  right.head(n) = values;
  const Eigen::VectorXd solution = system.partialPivLu().solve(right);
  weights_ = solution.head(n).array();
  plane_ = solution.tail<3>();
}

Eigen::ArrayXd ThinPlateSpline::along_line(double x, const Eigen::ArrayXd& y) const {
  Eigen::ArrayXd result = plane_[0] + plane_[1] * x + plane_[2] * y;
  Eigen::ArrayXd squared(y.size());
  for (Eigen::Index k = 0; k < weights_.size(); ++k) {
    const double along = x - x_[k];
    squared = along * along + (y - y_[k]).square();
    result += weights_[k] * kernel(squared);
  }
  return result;
}

double ThinPlateSpline::at(double x, double y) const {
  return along_line(x, Eigen::ArrayXd::Constant(1, y))[0];
}

}  // namespace rimload
