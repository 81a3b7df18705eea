#include "geometry/normal_values.hpp"

#include <cmath>
#include <numbers>
#include <random>

namespace rimload {

Eigen::VectorXd normal_values(Eigen::Index n, unsigned seed) {
  std::mt19937_64 engine(seed);
  const auto uniform = [&] { return (static_cast<double>(engine() >> 11U) + 0.5) * 0x1p-53; };
  Eigen::VectorXd out(n);
  for (Eigen::Index k = 0; k < n; ++k) {
    const double radius = std::sqrt(-2 * std::log(uniform()));
    out[k] = radius * std::cos(2 * std::numbers::pi * uniform());
  }
  return out;
}

}  // namespace rimload
