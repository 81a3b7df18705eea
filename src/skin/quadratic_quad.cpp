#include "skin/quadratic_quad.hpp"

#include <Eigen/Dense>
#include <cassert>
#include <cmath>

namespace rimload {

namespace {

constexpr std::array<double, 8> node_xi{-1, 1, 1, -1, 0, 1, 0, -1};
constexpr std::array<double, 8> node_eta{-1, -1, 1, 1, -1, 0, 1, 0};
const double gauss = 1 / std::sqrt(3.0);

struct Shape {
  Eigen::Matrix<double, 8, 1> value;
  Eigen::Matrix<double, 8, 2> slope;  // by xi and eta
};

Shape shape_at(double xi, double eta) {
  Shape out;
  for (int k = 0; k < 8; ++k) {
    const double a = node_xi[static_cast<std::size_t>(k)];
    const double b = node_eta[static_cast<std::size_t>(k)];
    if (k < 4) {
      out.value[k] = 0.25 * (1 + a * xi) * (1 + b * eta) * (a * xi + b * eta - 1);
      out.slope(k, 0) = 0.25 * a * (1 + b * eta) * (2 * a * xi + b * eta);
      out.slope(k, 1) = 0.25 * b * (1 + a * xi) * (2 * b * eta + a * xi);
    } else if (a == 0) {
      out.value[k] = 0.5 * (1 - xi * xi) * (1 + b * eta);
      out.slope(k, 0) = -xi * (1 + b * eta);
      out.slope(k, 1) = 0.5 * b * (1 - xi * xi);
    } else {
      out.value[k] = 0.5 * (1 - eta * eta) * (1 + a * xi);
      out.slope(k, 0) = 0.5 * a * (1 - eta * eta);
      out.slope(k, 1) = -eta * (1 + a * xi);
    }
  }
  return out;
}

std::array<Shape, 4> gauss_shapes() {
  return {shape_at(-gauss, -gauss), shape_at(gauss, -gauss), shape_at(-gauss, gauss),
          shape_at(gauss, gauss)};
}

}  // namespace

std::array<QuadPoint, 4> quad_points(const QuadNodes& nodes) {
  static const std::array<Shape, 4> shapes = gauss_shapes();
  std::array<QuadPoint, 4> out;
  for (std::size_t k = 0; k < 4; ++k) {
    const Eigen::Matrix2d jacobian = nodes * shapes[k].slope;  // d(x, y)/d(xi, eta)
    const double area = jacobian.determinant();
    assert(area > 0);
    out[k].share = shapes[k].value;
    out[k].slopes = (shapes[k].slope * jacobian.inverse()).transpose();
    out[k].area_mm2 = area;
  }
  return out;
}

PlaneStrainLaw PlaneStrainLaw::of(double youngs_n_mm2, double poisson) {
  assert(youngs_n_mm2 > 0 && poisson >= 0 && poisson < 0.5);
  return {youngs_n_mm2 * poisson / ((1 + poisson) * (1 - 2 * poisson)),
          youngs_n_mm2 / (2 * (1 + poisson))};
}

Eigen::Matrix<double, 16, 16> quad_stiffness(const std::array<QuadPoint, 4>& points,
                                             const PlaneStrainLaw& law) {
  // For slopes a and b of two nodes: lambda a b' + G (b a' + (a . b) 1), times the area.
  Eigen::Matrix<double, 16, 16> out = Eigen::Matrix<double, 16, 16>::Zero();
  for (const QuadPoint& point : points) {
    const double lambda = law.lambda * point.area_mm2;
    const double shear = law.shear * point.area_mm2;
    for (int j = 0; j < 8; ++j) {
      const double bx = point.slopes(0, j);
      const double by = point.slopes(1, j);
      for (int i = j; i < 8; ++i) {
        const double ax = point.slopes(0, i);
        const double ay = point.slopes(1, i);
        const double both = shear * (ax * bx + ay * by);
        out(2 * i, 2 * j) += (lambda + shear) * ax * bx + both;
        out(2 * i + 1, 2 * j) += lambda * ay * bx + shear * ax * by;
        out(2 * i, 2 * j + 1) += lambda * ax * by + shear * ay * bx;
        out(2 * i + 1, 2 * j + 1) += (lambda + shear) * ay * by + both;
      }
    }
  }
  for (int j = 0; j < 16; ++j) {
    for (int i = 0; i < j; ++i) out(i, j) = out(j, i);
  }
  return out;
}

const Eigen::Matrix<double, 8, 4>& quad_extrapolation() {
  static const Eigen::Matrix<double, 8, 4> matrix = [] {
    Eigen::Matrix<double, 8, 4> out;
    for (int k = 0; k < 8; ++k) {
      const double a = node_xi[static_cast<std::size_t>(k)] / gauss;
      const double b = node_eta[static_cast<std::size_t>(k)] / gauss;
      out.row(k) << (1 - a) * (1 - b), (1 + a) * (1 - b), (1 - a) * (1 + b), (1 + a) * (1 + b);
    }
    return Eigen::Matrix<double, 8, 4>(0.25 * out);
  }();
  return matrix;
}

std::array<EdgePoint, 3> edge_points(const EdgeNodes& nodes, double from, double to) {
  const double far = std::sqrt(0.6);
  const std::array<double, 3> place{-far, 0, far};
  constexpr std::array<double, 3> weight{5.0 / 9, 8.0 / 9, 5.0 / 9};
  std::array<EdgePoint, 3> out;
  for (std::size_t k = 0; k < 3; ++k) {
    const double xi = 0.5 * (from + to) + 0.5 * (to - from) * place[k];
    const double length = 0.5 * (to - from) * weight[k];
    EdgePoint& point = out[k];
    point.share << 0.5 * xi * (xi - 1), 1 - xi * xi, 0.5 * xi * (xi + 1);
    point.position = nodes * point.share;
    point.along = length * (nodes * Eigen::Vector3d(xi - 0.5, -2 * xi, xi + 0.5));
    point.outward = {-point.along.y(), point.along.x()};
  }
  return out;
}

}  // namespace rimload
