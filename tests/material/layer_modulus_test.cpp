#include "material/layer_modulus.hpp"

#include <Eigen/Dense>
#include <cmath>
#include <numbers>

#include "catch.hpp"

using namespace rimload;

namespace {

// Johnson 1985, section 5.8: a thin layer bonded to a rigid base under wide pressure can't spread
// sideways, and answers with its confined modulus.
double confined_ratio(double poisson) {
  return (1 - poisson) / ((1 + poisson) * (1 - 2 * poisson));
}

// M_eff/E under a rigid frictionless punch, mean pressure over mean strain, from strips alone.
//
// The mean displacement under a uniform strip, times its width, is the double integral of an even
// influence function; its second difference is what one of n equal strips does to another.
double punch_modulus(double width_over_depth, double poisson) {
  constexpr int n = 16;
  const double a = width_over_depth / n;
  const auto twice_integrated = [&](int strips) {
    return strips == 0 ? 0 : strips * a / layer_modulus(strips * a, poisson);
  };
  Eigen::MatrixXd influence(n, n);
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j) {
      const int m = std::abs(i - j);
      influence(i, j) =
          m == 0 ? twice_integrated(1) / a
                 : (twice_integrated(m + 1) - 2 * twice_integrated(m) + twice_integrated(m - 1)) /
                       (2 * a);
    }
  }
  return influence.lu().solve(Eigen::VectorXd::Ones(n)).mean();
}

}  // namespace

TEST_CASE("under a narrow strip the layer yields as a half-plane, by the logarithm of its width") {
  // Flamant's solution integrated over the strip [Johnson 1985, section 2.4]: halving the width
  // adds ln 2 to the mean displacement over 2 (1 - nu^2) p w/(pi E). The base, a depth h away,
  // changes this by the order of (w/h)^2.
  for (const double poisson : {0.0, 0.3, 0.45, 0.49}) {
    const auto reduced = [&](double v) {
      return std::numbers::pi / (2 * (1 - poisson * poisson) * v * layer_modulus(v, poisson));
    };
    CHECK(reduced(0.01) - reduced(0.02) == Approx(std::log(2)).epsilon(1e-4));
    CHECK(reduced(0.02) - reduced(0.04) == Approx(std::log(2)).epsilon(4e-4));
  }
}

TEST_CASE("under a wide strip the layer is confined") {
  // The two edges are off confinement over about a depth each: an error of the order h/w, more
  // near nu = 1/2.
  for (const double poisson : {0.0, 0.3, 0.45}) {
    const double confined = confined_ratio(poisson);
    CHECK(layer_modulus(400, poisson) == Approx(confined).epsilon(0.015));
    CHECK(layer_modulus(100, poisson) == Approx(confined).epsilon(0.06));
  }
}

TEST_CASE("a wide strip comes to confinement from below when the layer is hardly compressible") {
  // Tissue flows out at the edges. At nu = 0 there is no flow, and the skin beside the strip helps.
  CHECK(layer_modulus(64, 0.45) < layer_modulus(400, 0.45));
  CHECK(layer_modulus(400, 0.45) < confined_ratio(0.45));
  CHECK(layer_modulus(64, 0.0) > layer_modulus(400, 0.0));
  CHECK(layer_modulus(400, 0.0) > confined_ratio(0.0));
}

TEST_CASE("the shortfall of a wide strip from confinement goes with depth over width") {
  const auto shortfall = [](double v) { return confined_ratio(0.45) / layer_modulus(v, 0.45) - 1; };
  CHECK(shortfall(100) / shortfall(200) == Approx(2).epsilon(0.02));
  CHECK(shortfall(200) / shortfall(400) == Approx(2).epsilon(0.02));
}

TEST_CASE("the modulus meets figures of an independent finite-element program") {
  // Plane strain, bonded layer, a body pressed in; the figures are read to one or two digits. A
  // punch made of strips stands for that body: the mean under one uniform strip is up to 7 %
  // softer.
  CHECK(punch_modulus(1, 0.45) == Approx(2.6).epsilon(0.05));
  CHECK(punch_modulus(0.25, 0.45) == Approx(4).epsilon(0.05));
  CHECK(punch_modulus(8, 0.49) == Approx(8).epsilon(0.05));
}

TEST_CASE("a punch is stiffer than the mean under uniform pressure, by less than a tenth") {
  // Of all pressures with one resultant, that of the rigid punch has the least work.
  for (const double v : {0.25, 1.0, 4.0}) {
    CHECK(punch_modulus(v, 0.45) > layer_modulus(v, 0.45));
    CHECK(punch_modulus(v, 0.45) < 1.1 * layer_modulus(v, 0.45));
  }
}

TEST_CASE("the modulus is least where the strip is about as wide as the layer is deep") {
  CHECK(layer_modulus(1, 0.45) < layer_modulus(0.3, 0.45));
  CHECK(layer_modulus(1, 0.45) < layer_modulus(3, 0.45));
}

TEST_CASE("the tabulated modulus is that of the integral within 0.1 %") {
  for (const double poisson : {0.0, 0.3, 0.45, 0.49}) {
    const LayerModulus table(poisson);
    double worst = 0;
    for (int k = -40; k <= 40; ++k) {  // between nodes and on them
      const double v = std::exp(k * std::log(63.0) / 40);
      worst = std::max(worst, std::abs(table.at(v).ratio / layer_modulus(v, poisson) - 1));
    }
    CHECK(worst < 1e-3);
  }
}

TEST_CASE("the slope of the tabulated modulus is its derivative by the logarithm of width") {
  const LayerModulus table(0.45);
  for (const double v : {0.03, 0.4, 1.0, 2.7, 30.0}) {
    constexpr double step = 1e-5;  // rounding 1e-11, truncation 1e-10
    const double difference =
        (table.at(v * std::exp(step)).ratio - table.at(v * std::exp(-step)).ratio) / (2 * step);
    CHECK(table.at(v).by_log_width == Approx(difference).margin(1e-8));
  }
}

TEST_CASE("beyond its ends the table holds its last value, without slope") {
  const LayerModulus table(0.45);
  CHECK(table.at(1e-3).ratio == Approx(table.at(1.0 / 64).ratio));
  CHECK(table.at(1e3).ratio == Approx(table.at(64).ratio));
  CHECK(table.at(0.0).ratio == Approx(table.at(1.0 / 64).ratio));
  CHECK(table.at(1e-3).by_log_width == 0);
  CHECK(table.at(1e3).by_log_width == 0);
}
