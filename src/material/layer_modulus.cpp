#include "material/layer_modulus.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "geometry/bicubic_grid.hpp"

namespace rimload {

namespace {

constexpr int n_nodes = 49;
const double log_first = std::log(1.0 / 64);
const double log_step = 2 * std::log(64.0) / (n_nodes - 1);

// K(s) of the header, with both exponentials scaled away so that large s can't overflow.
double wave_response(double s, double c) {
  const double decay = std::exp(-2 * s);
  const double decay2 = decay * decay;
  return (c * (1 - decay2) - 4 * s * decay) / (c * (1 + decay2) + (4 * s * s + 1 + c * c) * decay);
}

}  // namespace

double layer_modulus(double width_over_depth, double poisson) {
  assert(width_over_depth > 0 && poisson >= 0 && poisson < 0.5);
  // With s = k h and v = w/h, mean displacement / (p h / E) =
  //   (4 (1 - nu^2) / pi) * integral of K(s)/s * sinc^2(s v / 2) * (v / 2) ds.
  // In t = s v / 2 the sinc lobes sit at multiples of pi: two Gauss panels for each lobe; the
  // first lobe is split further where K turns over. Beyond the last lobe K = 1 and sinc^2
  // averages 1/(2 t^2): the tail is v/(4 t^2)... in closed form below.
  constexpr std::array node{-0.9061798459386640, -0.5384693101056831, 0.0, 0.5384693101056831,
                            0.9061798459386640};
  constexpr std::array weight{0.2369268850561891, 0.4786286704993665, 0.5688888888888889,
                              0.4786286704993665, 0.2369268850561891};
  constexpr double pi = std::numbers::pi;
  const double v = width_over_depth;
  const double c = 3 - 4 * poisson;
  const auto integrand = [&](double t) {
    const double s = 2 * t / v;
    const double sinc = std::sin(t) / t;
    return wave_response(s, c) / t * sinc * sinc;
  };
  const auto panel = [&](double from, double to) {
    double sum = 0;
    for (std::size_t k = 0; k < node.size(); ++k) {
      sum += weight[k] * integrand(0.5 * (from + to) + 0.5 * (to - from) * node[k]);
    }
    return 0.5 * (to - from) * sum;
  };
  double integral = 0;
  // Geometric panels from far below the turn of K (s near 1) to the end of the first lobe.
  double from = std::min(pi, 1e-4 * v);
  integral += from * integrand(0.5 * from);
  while (from < pi) {
    const double to = std::min(pi, from * 1.3);
    integral += panel(from, to);
    from = to;
  }
  const int n_lobes = static_cast<int>(std::ceil(40 + 6 * v));
  for (int lobe = 1; lobe < n_lobes; ++lobe) {
    integral += panel(lobe * pi, (lobe + 0.5) * pi) + panel((lobe + 0.5) * pi, (lobe + 1) * pi);
  }
  // sin^2 averages 1/2: the tail of 1/(2 t^3) from the last lobe on.
  integral += 1 / (4 * n_lobes * n_lobes * pi * pi);
  const double compliance = 2 * (1 - poisson * poisson) * v / pi * integral;
  return 1 / compliance;
}

LayerModulus::LayerModulus(double poisson) : poisson_(poisson) {
  assert(poisson >= 0 && poisson <= 0.495);
  coefficients_.assign(n_nodes + 2, 0.0);
  const auto at = [&](int k) -> double& { return coefficients_[static_cast<std::size_t>(k + 1)]; };
  for (int k = 0; k < n_nodes; ++k)
    at(k) = layer_modulus(std::exp(log_first + k * log_step), poisson);
  bspline::interpolate(n_nodes, at);
  bspline::extend(n_nodes, at);
}

LayerModulus::Value LayerModulus::at(double width_over_depth) const {
  const double x = (std::log(std::max(width_over_depth, 1e-300)) - log_first) / log_step;
  const double last = n_nodes - 1;
  const double inside = std::clamp(x, 0.0, last);
  const int cell = std::min(static_cast<int>(inside), n_nodes - 2);
  const bspline::Taps w = bspline::weights(inside - cell);
  const bspline::Taps s = bspline::slopes(inside - cell);
  const double* c = &coefficients_[static_cast<std::size_t>(cell)];
  Value out;
  const Eigen::Map<const Eigen::Array4d> around(c);
  out.ratio = (w * around).sum();
  out.by_log_width = (s * around).sum() / log_step;
  if (x != inside) out.by_log_width = 0;
  return out;
}

}  // namespace rimload
