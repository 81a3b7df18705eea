// A force with a moment, and its change with a small rigid motion.
#pragma once

#include <Eigen/Core>

#include "geometry/vec.hpp"

namespace rimload {

using Vec6 = Eigen::Matrix<double, 6, 1>;
using Mat6 = Eigen::Matrix<double, 6, 6>;
using Mat37 = Eigen::Matrix<double, 3, 7>;

/// Force on the mask [N] above moment about its reference point [N mm], with the derivative by
/// a shift [mm] and a turn [rad] of the mask about that point.
struct Wrench {
  Vec6 value = Vec6::Zero();
  Mat6 slope = Mat6::Zero();
};

}  // namespace rimload
