// The thrust of gas on what a closed loop encloses.
#pragma once

#include <span>
#include <vector>

#include "contact/wrench.hpp"

namespace rimload {

/// Force and moment about the origin of a uniform pressure on any surface bounded by a closed
/// polygon.
///
/// F = (P/2) sum r_i x r_{i+1}, M = -(P/2) sum over edges of the integral of |r|^2 dr: the force on
/// the side from which the loop runs anticlockwise (Stokes' theorem).
struct LoopThrust {
  Vec3 force = Vec3::Zero();
  Vec3 moment = Vec3::Zero();
};

/// @param corners three or more, closed [mm]; @param pressure [N/mm2]
[[nodiscard]] LoopThrust loop_thrust(std::span<const Vec3> corners, double pressure);
/// Its derivatives by each corner, of force above moment.
[[nodiscard]] std::vector<Eigen::Matrix<double, 6, 3>> loop_thrust_by_corner(
    std::span<const Vec3> corners, double pressure);

}  // namespace rimload
