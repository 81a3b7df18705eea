// The lip as a beam on an elastic foundation, against closed forms of Hetenyi 1946.
#include "contact/rim_beam.hpp"

#include <Eigen/SparseCholesky>
#include <cmath>
#include <functional>

#include "catch.hpp"

using namespace rimload;

namespace {

constexpr double foundation = 9e-3;  // k [N/mm2]: a lip 9 mm wide of 1 kPa/mm

// Deflection of a ring of stations on the foundation under a force per length q(x), x from the
// middle of the ring. A ring of 40 decay lengths or more is as good as endless (e^-20).
struct Ring {
  double bending_n_mm2, tension_n, length_mm;
  int n;
  [[nodiscard]] double step() const { return length_mm / n; }
  [[nodiscard]] double at(int i) const { return (i - n / 2) * step(); }
  [[nodiscard]] Eigen::VectorXd deflection(const std::function<double(int)>& force_n) const {
    Eigen::SparseMatrix<double> matrix =
        RimBeam{.bending_n_mm2 = bending_n_mm2, .tension_n = tension_n, .station_mm = step()}
            .stiffness(n);
    Eigen::VectorXd load(n);
    for (int i = 0; i < n; ++i) {
      matrix.coeffRef(i, i) += foundation * step();
      load[i] = force_n(i);
    }
    Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor(matrix);
    return factor.solve(load);
  }
  // Largest difference from a closed form over a scale, on the half of the ring about x = 0.
  [[nodiscard]] double error(const Eigen::VectorXd& u, const std::function<double(double)>& exact,
                             double scale) const {
    double worst = 0;
    for (int i = n / 4; i < n - n / 4; ++i) {
      worst = std::max(worst, std::abs(u[i] - exact(at(i))));
    }
    return worst / scale;
  }
};

// Infinite beam, force P = 1 N at x = 0 [Hetenyi 1946, section 3 and, with tension, section 6]:
// y = P L^2/(2 k a b) e^(-a x) (b cos b x + a sin b x), a,b = sqrt(L^2 +- N/(4 EI)),
// L^4 = k/(4 EI). Without tension this is P L/(2k) e^(-L x)(cos L x + sin L x).
double point_load(double x, double bending, double tension) {
  const double square = std::sqrt(foundation / (4 * bending));
  const double a = std::sqrt(square + tension / (4 * bending));
  const double b = std::sqrt(square - tension / (4 * bending));
  const double r = std::abs(x);
  return square / (2 * foundation * a * b) * std::exp(-a * r) *
         (b * std::cos(b * r) + a * std::sin(b * r));
}

// Uniform load q = 1 N/mm on x > 0 only [Hetenyi 1946, section 3].
double half_loaded(double x, double bending) {
  const double l = std::pow(foundation / (4 * bending), 0.25);
  const double inner = std::exp(-l * std::abs(x)) * std::cos(l * x) / (2 * foundation);
  return x > 0 ? 1 / foundation - inner : inner;
}

double point_load_error(int n, double bending, double tension) {
  const Ring ring{bending, tension, 600, n};
  const Eigen::VectorXd u = ring.deflection([&](int i) { return i == n / 2 ? 1.0 : 0.0; });
  const auto exact = [&](double x) { return point_load(x, bending, tension); };
  return ring.error(u, exact, exact(0));
}

}  // namespace

TEST_CASE("a point load on an endless beam deflects it as Hetenyi's closed form says") {
  // Decay length (4 EI/k)^(1/4) = 11.5 mm; stations 1.5 mm apart: error (l/11.5)^2 times 0.3.
  CHECK(point_load_error(400, 40, 0) < 5e-3);
  CHECK(point_load_error(1600, 40, 0) < 3.5e-4);
}

TEST_CASE("tension stiffens the beam as Hetenyi's closed form with axial force says") {
  CHECK(point_load_error(1600, 40, 0.6) < 5e-4);
  CHECK(point_load(0, 40, 0.6) < point_load(0, 40, 0));
}

TEST_CASE("the beam converges with the square of the distance of stations") {
  for (const double tension : {0.0, 0.6}) {
    const double order =
        std::log2(point_load_error(400, 40, tension) / point_load_error(800, 40, tension));
    CHECK(order == Approx(2).margin(0.1));
  }
}

TEST_CASE("a load on one half of the beam fades into the other as Hetenyi's closed form says") {
  const int n = 1600;
  const Ring ring{40, 0, 600, n};
  // Half a cell is loaded at the edges at x = 0 and, out of reach, at the far side.
  const Eigen::VectorXd u = ring.deflection([&](int i) {
    if (i == n / 2 || i == 0) return 0.5 * ring.step();
    return i > n / 2 ? ring.step() : 0.0;
  });
  const auto exact = [](double x) { return half_loaded(x, 40); };
  CHECK(ring.error(u, exact, 1 / foundation) < 3e-4);
  CHECK(u[n / 2] == Approx(1 / (2 * foundation)).epsilon(1e-9));
}

TEST_CASE("a lip without bending stiffness is a string: decay length sqrt(N/k)") {
  const double tension = 0.3;
  const double decay = std::sqrt(tension / foundation);
  const int n = 2000;
  const Ring ring{0, tension, 400, n};
  const Eigen::VectorXd u = ring.deflection([&](int i) { return i == n / 2 ? 1.0 : 0.0; });
  const auto exact = [&](double x) {
    return std::exp(-std::abs(x) / decay) / (2 * std::sqrt(tension * foundation));
  };
  // The differences' own deflection at the load is (l/decay)^2/8 = 1.5e-4 less, stations 0.2 mm
  // apart.
  CHECK(ring.error(u, exact, exact(0)) < 1.6e-4);
}

TEST_CASE("a beam moved as a whole resists nothing, and its matrix is symmetric") {
  const Eigen::SparseMatrix<double> k =
      RimBeam{.bending_n_mm2 = 40, .tension_n = 0.3, .station_mm = 1.2}.stiffness(64);
  const Eigen::VectorXd ones = Eigen::VectorXd::Ones(64);
  CHECK((k * ones).cwiseAbs().maxCoeff() < 1e-12);
  CHECK((Eigen::MatrixXd(k) - Eigen::MatrixXd(k).transpose()).norm() == 0);
}
