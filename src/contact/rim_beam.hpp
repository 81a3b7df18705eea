// The lip as a tensioned beam along the rim.
#pragma once

#include <Eigen/SparseCore>

namespace rimload {

/// Stiffness of a closed beam EI u'''' - N u'' at n equal stations: row i times u is the force on
/// station i [N per mm of displacement], second-order central differences.
///
/// Energy: sum of l [EI (u_{i-1} - 2 u_i + u_{i+1})^2 / (2 l^4) + N (u_{i+1} - u_i)^2 / (2 l^2)].
struct RimBeam {
  double bending_n_mm2 = 0;  ///< EI
  double tension_n = 0;      ///< N
  double station_mm = 2;     ///< l

  [[nodiscard]] Eigen::SparseMatrix<double> stiffness(int n_stations) const;
};

}  // namespace rimload
