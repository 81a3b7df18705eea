#include "skin/quadratic_quad.hpp"

#include <Eigen/Eigenvalues>

#include "catch.hpp"

using namespace rimload;

namespace {

// Four sides of different lengths, one of them curved.
QuadNodes crooked() {
  QuadNodes nodes;
  nodes << 0, 2, 2.3, -0.2, 1, 2.15, 1.05, -0.1,  //
      0, 0.2, 1.5, 1.2, 0.1, 0.85, 1.45, 0.6;
  return nodes;
}

Eigen::Matrix<double, 16, 1> unknowns_of(const QuadNodes& nodes) {
  return Eigen::Map<const Eigen::Matrix<double, 16, 1>>(nodes.data());
}

}  // namespace

TEST_CASE("A crooked element shows a linear displacement as its even strain") {
  // Patch test: isoparametric elements hold linear fields exactly.
  Eigen::Matrix2d gradient;
  gradient << 0.01, -0.03, 0.02, -0.04;
  const QuadNodes nodes = crooked();
  for (const QuadPoint& point : quad_points(nodes)) {
    const Eigen::Matrix2d found = gradient * nodes * point.slopes.transpose();
    CHECK((found - gradient).norm() < 1e-14);
  }
}

TEST_CASE("Moving or slightly turning an element as a whole takes no force") {
  const auto stiffness = quad_stiffness(quad_points(crooked()), PlaneStrainLaw::of(0.06, 0.49));
  Eigen::Matrix2d turn;
  turn << 0, -1, 1, 0;
  const QuadNodes along = Eigen::Vector2d(1, -2).replicate(1, 8);
  CHECK((stiffness * unknowns_of(along)).norm() < 1e-13);
  CHECK((stiffness * unknowns_of(turn * crooked())).norm() < 1e-13);
}

TEST_CASE(
    "An element alone resists all shapes but three rigid ones and one that no mesh can take") {
  // 16 unknowns less 3 strains at each of 4 points; the fourth free shape can't be shared with a
  // neighbour [Bathe 1996, section 5.5.6, from memory].
  const auto stiffness = quad_stiffness(quad_points(crooked()), PlaneStrainLaw::of(1, 0.3));
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix<double, 16, 16>> modes(stiffness);
  CHECK((stiffness - stiffness.transpose()).norm() < 1e-14);
  CHECK(std::abs(modes.eigenvalues()[3]) < 1e-12);
  CHECK(modes.eigenvalues()[4] > 1e-3);
}

TEST_CASE("The stiffness is that of Hooke's law in plane strain") {
  // Work of an even strain on a unit square: (1/2) s : e, by Lame's constants.
  QuadNodes square;
  square << 0, 1, 1, 0, 0.5, 1, 0.5, 0, 0, 0, 1, 1, 0, 0.5, 1, 0.5;
  const double youngs = 2;
  const double poisson = 0.3;
  const auto stiffness = quad_stiffness(quad_points(square), PlaneStrainLaw::of(youngs, poisson));
  const auto work = [&](double xx, double yy, double xy) {
    Eigen::Matrix2d gradient;
    gradient << xx, xy, 0, yy;
    const auto u = unknowns_of(gradient * square);
    return u.dot(stiffness * u);
  };
  const double confined = youngs * (1 - poisson) / ((1 + poisson) * (1 - 2 * poisson));
  CHECK(work(1, 0, 0) == Approx(confined).epsilon(1e-12));
  CHECK(work(0, 1, 0) == Approx(confined).epsilon(1e-12));
  CHECK(work(0, 0, 1) == Approx(youngs / (2 * (1 + poisson))).epsilon(1e-12));
  CHECK(work(1, -1, 0) == Approx(4 * youngs / (2 * (1 + poisson))).epsilon(1e-12));
}

TEST_CASE("Values at the integration points reach the nodes where they vary linearly") {
  QuadNodes square;
  square << -1, 1, 1, -1, 0, 1, 0, -1, -1, -1, 1, 1, -1, 0, 1, 0;
  Eigen::Vector4d at_points;
  const auto field = [](const Eigen::Vector2d& x) {
    return 3 - 2 * x.x() + 0.5 * x.y() + x.x() * x.y();
  };
  const auto points = quad_points(square);
  for (int k = 0; k < 4; ++k) {
    at_points[k] = field(square * points[static_cast<std::size_t>(k)].share);
  }
  const Eigen::Matrix<double, 8, 1> at_nodes = quad_extrapolation() * at_points;
  for (int k = 0; k < 8; ++k) CHECK(at_nodes[k] == Approx(field(square.col(k))).margin(1e-13));
}

TEST_CASE("A curved side is measured along its parabola, and its normals look outwards") {
  // Half the width of 2 with a rise of 0.3: arc length of y = f (1 - x^2) [handbook integral].
  EdgeNodes side;
  side << -1, 0, 1, 0, 0.3, 0;
  double length = 0;
  Eigen::Vector2d normals = Eigen::Vector2d::Zero();
  for (const EdgePoint& point : edge_points(side, -1, 1)) {
    length += point.along.norm();
    normals += point.outward;
  }
  const double slope = 2 * 0.3;
  const double exact = std::sqrt(1 + slope * slope) + std::asinh(slope) / slope;
  CHECK(length == Approx(exact).epsilon(1e-4));  // three points on a root
  CHECK(normals.x() == Approx(0).margin(1e-14));
  CHECK(normals.y() == Approx(2).epsilon(1e-14));  // closed figures: as along the chord
}
