#include "material/column_formula.hpp"

#include <cassert>
#include <cmath>
#include <numbers>

namespace rimload {

double strip_modulus_estimate(double width_over_depth, double poisson) {
  assert(width_over_depth > 0 && poisson >= 0 && poisson < 0.5);
  const double v = width_over_depth;
  const double confined = (1 - poisson) / ((1 + poisson) * (1 - 2 * poisson));
  const double narrow =
      (1 - poisson * poisson) * v / std::numbers::pi * std::log1p(1.694 * 1.694 / (v * v));
  const double wide = std::pow(v, 1.173);
  return 1 / (narrow + wide / (wide + 2.28) / confined);
}

double punch_modulus_estimate(double width_over_depth, double poisson) {
  const double v = width_over_depth;
  const double edges = 0.114 / (std::pow(2 / v, 0.4) + std::pow(v / 2, 4.6));
  const double middle = 0.0104 * v * std::exp(-24 * (1 - 2 * poisson));
  return strip_modulus_estimate(v, poisson) * (1 + edges + middle);
}

}  // namespace rimload
