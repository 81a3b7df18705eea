// Thin-plate, periodic and B-splines.
#include <numbers>

#include "catch.hpp"
#include "geometry/bicubic_grid.hpp"
#include "geometry/periodic_spline.hpp"
#include "geometry/thin_plate_spline.hpp"

using namespace rimload;

namespace {
// Twenty points without order; any will do.
Eigen::Matrix2Xd scattered() {
  Eigen::Matrix2Xd points(2, 20);
  for (Eigen::Index k = 0; k < 20; ++k) {
    const auto t = static_cast<double>(k);
    points.col(k) << 60 * std::sin(2.4 * t) * std::sqrt(t / 20), 60 * std::cos(2.4 * t) * t / 20;
  }
  return points;
}
}  // namespace

TEST_CASE("a thin-plate spline without smoothing passes its data") {
  const Eigen::Matrix2Xd points = scattered();
  Eigen::VectorXd values(points.cols());
  for (Eigen::Index k = 0; k < points.cols(); ++k) values[k] = std::cos(1.7 * double(k)) * 10;
  const ThinPlateSpline spline(points, values, 0);
  for (Eigen::Index k = 0; k < points.cols(); ++k) {
    // 1e-9: the system's condition, about 1e5, times rounding of 1e4 in the kernel.
    CHECK(spline.at(points(0, k), points(1, k)) == Approx(values[k]).margin(1e-9));
  }
}

TEST_CASE("a thin-plate spline of a plane is that plane, smoothed or not") {
  const Eigen::Matrix2Xd points = scattered();
  const Eigen::VectorXd values =
      (3 + 0.7 * points.row(0).array() - 1.3 * points.row(1).array()).transpose();
  for (const double smoothing : {0.0, 0.2, 50.0}) {
    const ThinPlateSpline spline(points, values, smoothing);
    for (const double x : {-80.0, -3.0, 44.0}) {
      CHECK(spline.at(x, 0.5 * x) == Approx(3 + 0.7 * x - 0.65 * x).margin(1e-9));
    }
  }
}

TEST_CASE("along a line a thin-plate spline has its values at the points") {
  const Eigen::Matrix2Xd points = scattered();
  const ThinPlateSpline spline(points, points.row(0).transpose().array().square().matrix(), 0.2);
  const Eigen::ArrayXd y = Eigen::ArrayXd::LinSpaced(7, -40, 40);
  const Eigen::ArrayXd line = spline.along_line(12, y);
  for (Eigen::Index k = 0; k < y.size(); ++k) {
    CHECK(line[k] == Approx(spline.at(12, y[k])).margin(1e-10));  // other vector lanes round apart
  }
}

TEST_CASE("a periodic spline converges to a circle with fourth order") {
  const double radius = 40;
  const auto error = [&](int n) {
    Eigen::MatrixXd values(2, n);
    Eigen::VectorXd knots(n + 1);
    for (int k = 0; k <= n; ++k) {
      knots[k] = 2 * std::numbers::pi * k / n;
      if (k < n) values.col(k) << radius * std::cos(knots[k]), radius * std::sin(knots[k]);
    }
    const PeriodicSpline spline(values, knots);
    double worst = 0;
    for (int i = 0; i < 1000; ++i) {
      const double t = 2 * std::numbers::pi * i / 1000;
      const Eigen::Vector2d exact(radius * std::cos(t), radius * std::sin(t));
      worst = std::max(worst, (spline.at(t) - exact).norm());
    }
    return worst;
  };
  CHECK(error(16) < 5e-3);
  // Order from halving: log2 of the ratio, 4 in the limit.
  CHECK(std::log2(error(8) / error(16)) == Approx(4).margin(0.25));
  CHECK(std::log2(error(16) / error(32)) == Approx(4).margin(0.1));
}

TEST_CASE("a periodic spline closes with its slope and its curvature") {
  Eigen::MatrixXd values(1, 5);
  values << 0, 3, -1, 2, 5;
  Eigen::VectorXd knots(6);
  knots << 0, 1, 2.5, 3, 4, 6;
  const PeriodicSpline spline(values, knots);
  CHECK(spline.at(0)[0] == Approx(0).margin(1e-12));
  CHECK(spline.at(6 - 1e-9)[0] == Approx(spline.at(0)[0]).margin(1e-7));
  CHECK(spline.at(-1.5)[0] == Approx(spline.at(4.5)[0]).margin(1e-12));
  const double h = 1e-4;
  for (const double knot : {0.0, 1.0, 2.5, 3.0, 4.0}) {
    // Continuous first and second derivatives at the knots; margins: h times the third derivative.
    const double before = (spline.slope(knot)[0] - spline.slope(knot - h)[0]) / h;
    const double after = (spline.slope(knot + h)[0] - spline.slope(knot)[0]) / h;
    CHECK(before == Approx(after).margin(0.02));
  }
}

TEST_CASE("an interpolating B-spline passes its nodes and has the cubics inside") {
  const GridFrame frame{-5, 2, 0.5, 24, 31};
  const auto cubic = [](double u, double v) {
    return 1 + 0.3 * u - 0.2 * v + 0.05 * u * v - 0.01 * u * u * v;
  };
  std::vector<BicubicGrid<1>::Values> nodes;
  for (int j = 0; j < frame.n_v; ++j) {
    for (int i = 0; i < frame.n_u; ++i) {
      BicubicGrid<1>::Values value;
      value[0] = cubic(frame.u_at(i), frame.v_at(j));
      nodes.push_back(value);
    }
  }
  const BicubicGrid<1> grid(frame, nodes, BicubicGrid<1>::Kind::interpolating);
  for (int j = 0; j < frame.n_v; ++j) {
    for (int i = 0; i < frame.n_u; ++i) {
      const double u = frame.u_at(i);
      const double v = frame.v_at(j);
      CHECK(grid.value_at(u, v)[0] == Approx(cubic(u, v)).margin(1e-11));
    }
  }
  // Twelve nodes from the border its zero curvature there has faded by (2 - sqrt 3)^12 = 1e-7.
  const FieldPoint<1> middle = grid.at(0.71, 9.4);
  CHECK(middle.value[0] == Approx(cubic(0.71, 9.4)).margin(1e-7));
  CHECK(middle.du[0] == Approx(0.3 + 0.05 * 9.4 - 0.02 * 0.71 * 9.4).margin(1e-6));
  CHECK(middle.dv[0] == Approx(-0.2 + 0.05 * 0.71 - 0.01 * 0.71 * 0.71).margin(1e-6));
  CHECK(middle.duu[0] == Approx(-0.02 * 9.4).margin(1e-5));
  CHECK(middle.duv[0] == Approx(0.05 - 0.02 * 0.71).margin(1e-5));
  CHECK(middle.dvv[0] == Approx(0).margin(1e-5));
}

TEST_CASE("an approximating B-spline never leaves the range of its nodes") {
  const GridFrame frame{0, 0, 1, 12, 12};
  std::vector<BicubicGrid<1>::Values> nodes(144);
  for (std::size_t k = 0; k < nodes.size(); ++k) nodes[k][0] = (k * 37) % 5 == 0 ? 10 : 2;
  const BicubicGrid<1> grid(frame, nodes, BicubicGrid<1>::Kind::approximating);
  double least = 99;
  double most = 0;
  for (double u = 1; u <= 10; u += 0.13) {
    for (double v = 1; v <= 10; v += 0.17) {
      const double value = grid.value_at(u, v)[0];
      least = std::min(least, value);
      most = std::max(most, value);
    }
  }
  CHECK(least >= 2);
  CHECK(most <= 10);
  CHECK(most - least > 1);
}
