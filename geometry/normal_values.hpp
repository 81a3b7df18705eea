// Normal deviates that are the same with every standard library.
#pragma once

#include <Eigen/Core>

namespace rimload {

/// n independent values of N(0, 1) [Box and Muller 1958]: the standard library leaves the algorithm
/// of its own open.
/// @param seed the same seed, the same values
[[nodiscard]] Eigen::VectorXd normal_values(Eigen::Index n, unsigned seed);

}  // namespace rimload
