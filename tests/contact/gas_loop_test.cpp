#include "contact/gas_loop.hpp"

#include <array>
#include <cmath>
#include <functional>
#include <numbers>

#include "catch.hpp"
#include "geometry/rim.hpp"

using namespace rimload;

namespace {

constexpr double pressure = 1.5e-3;
constexpr double pi = std::numbers::pi;

std::vector<Vec3> loop_of(const std::function<Vec3(double)>& curve, int n) {
  std::vector<Vec3> out;
  for (int i = 0; i < n; ++i) out.push_back(curve(2 * pi * i / n));
  return out;
}

// A bowl over an ellipse, then tilted and put aside: its border is no plane curve.
struct Bowl {
  double a = 30, b = 42;
  Mat3 turn = (Eigen::AngleAxisd(0.4, Vec3(1, 2, -0.5).normalized())).toRotationMatrix();
  Vec3 shift{5, -48, 12};

  [[nodiscard]] static double height(double x, double y) {
    return 0.2 * x - 0.1 * y + 0.006 * x * x - 0.004 * y * y + 0.003 * x * y;
  }
  [[nodiscard]] Vec3 at(double radius, double angle) const {
    const double x = a * radius * std::cos(angle);
    const double y = b * radius * std::sin(angle);
    return turn * Vec3(x, y, height(x, y)) + shift;
  }
  // Integral of P n dA and P r x n dA: six Gauss points along the radius are exact for these
  // polynomials, 400 steps of the trapezoid rule round the angle as good as exact.
  [[nodiscard]] Vec6 thrust() const {
    constexpr std::array node{-0.9324695142031521, -0.6612093864662645, -0.2386191860831969,
                              0.2386191860831969,  0.6612093864662645,  0.9324695142031521};
    constexpr std::array weight{0.1713244923791704, 0.3607615730481386, 0.4679139345726910,
                                0.4679139345726910, 0.3607615730481386, 0.1713244923791704};
    Vec6 sum = Vec6::Zero();
    constexpr int n = 400;
    for (int i = 0; i < n; ++i) {
      const double angle = 2 * pi * i / n;
      for (std::size_t k = 0; k < node.size(); ++k) {
        const double r = 0.5 * (1 + node[k]);
        const double x = a * r * std::cos(angle);
        const double y = b * r * std::sin(angle);
        const Vec3 area = turn *
                          Vec3(-(0.2 + 0.012 * x + 0.003 * y), -(-0.1 - 0.008 * y + 0.003 * x), 1) *
                          (a * b * r * 0.5 * weight[k] * 2 * pi / n);
        sum.head<3>() += pressure * area;
        sum.tail<3>() += pressure * at(r, angle).cross(area);
      }
    }
    return sum;
  }
};

double relative_error(const LoopThrust& thrust, const Vec6& exact) {
  return std::max((thrust.force - exact.head<3>()).norm() / exact.head<3>().norm(),
                  (thrust.moment - exact.tail<3>()).norm() / exact.tail<3>().norm());
}

}  // namespace

TEST_CASE("the thrust on a flat ellipse is pressure times pi a b at its centre") {
  const Vec3 centre(3, -50, 7);
  const auto loop = loop_of(
      [&](double t) { return Vec3(centre + Vec3(30 * std::cos(t), 42 * std::sin(t), 0)); }, 2400);
  const LoopThrust thrust = loop_thrust(loop, pressure);
  const Vec3 force(0, 0, pressure * pi * 30 * 42);
  // A polygon of n corners is (2/3)(pi/n)^2 = 1.1e-6 short of the ellipse.
  CHECK((thrust.force - force).norm() < 2e-6 * force.norm());
  CHECK((thrust.moment - centre.cross(force)).norm() < 2e-6 * centre.cross(force).norm());
}

TEST_CASE("the thrust through a tilted loop that is not plane is the integral over the surface") {
  const Bowl bowl;
  const auto error = [&](int n) {
    const auto loop = loop_of([&](double t) { return bowl.at(1, t); }, n);
    return relative_error(loop_thrust(loop, pressure), bowl.thrust());
  };
  CHECK(error(RimSampling{}.n_stations) < 5e-4);
  CHECK(error(9600) < 3e-7);
  CHECK(std::log2(error(120) / error(240)) == Approx(2).margin(0.02));
}

TEST_CASE("on a polygon the thrust is exactly that on any fan of triangles over it") {
  const Bowl bowl;
  const auto loop = loop_of([&](double t) { return bowl.at(1, t); }, 17);
  for (const Vec3& top : {Vec3(0, -40, 60), Vec3(-20, 10, -5)}) {
    Vec6 sum = Vec6::Zero();
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec3& b = loop[(i + 1) % loop.size()];
      const Vec3 area = 0.5 * (loop[i] - top).cross(b - top);
      sum.head<3>() += pressure * area;
      sum.tail<3>() += pressure * ((top + loop[i] + b) / 3).cross(area);
    }
    CHECK(relative_error(loop_thrust(loop, pressure), sum) < 1e-13);
  }
}

TEST_CASE("the derivatives of the thrust by its corners are its finite differences") {
  const Bowl bowl;
  auto loop = loop_of([&](double t) { return bowl.at(1, t); }, 12);
  const auto by_corner = loop_thrust_by_corner(loop, pressure);
  constexpr double step = 1e-3;  // quadratic and cubic in the corners: truncation 1e-6 of 1e-3
  for (std::size_t i = 0; i < loop.size(); ++i) {
    for (int axis = 0; axis < 3; ++axis) {
      const Vec3 kept = loop[i];
      loop[i] = kept + step * Vec3::Unit(axis);
      const LoopThrust above = loop_thrust(loop, pressure);
      loop[i] = kept - step * Vec3::Unit(axis);
      const LoopThrust below = loop_thrust(loop, pressure);
      loop[i] = kept;
      Vec6 difference;
      difference << above.force - below.force, above.moment - below.moment;
      difference /= 2 * step;
      CHECK((by_corner[i].col(axis) - difference).norm() < 1e-8 * difference.norm() + 1e-9);
    }
  }
}
