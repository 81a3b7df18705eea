// The eight-node quadrilateral with reduced integration, in plane strain.
#pragma once

#include <Eigen/Core>
#include <array>

namespace rimload {

/// Positions or displacements of the eight nodes [mm], 2 x 8: corners anticlockwise from below
/// left, then the middles of the sides below, right, above and left. CalculiX's CPE8R has the same
/// order.
using QuadNodes = Eigen::Matrix<double, 2, 8>;

/// Slopes of the eight shape functions and the area that belongs to one integration point.
struct QuadPoint {
  QuadNodes slopes;                   ///< by x and by y [1/mm]
  Eigen::Matrix<double, 8, 1> share;  ///< the shape functions themselves
  double area_mm2 = 0;                ///< weight times the Jacobian's determinant
};

/// The 2 x 2 Gauss points at (-+1/sqrt 3, -+1/sqrt 3), below left, below right, above left, above
/// right. With them the element passes the patch test and does not lock near nu = 1/2
/// [Zienkiewicz and Taylor 2000, volume 1, sections 8.11 and 12.5, from memory].
[[nodiscard]] std::array<QuadPoint, 4> quad_points(const QuadNodes& nodes);

/// Lame's constants.
struct PlaneStrainLaw {
  double lambda = 0;  ///< E nu/((1 + nu)(1 - 2 nu)) [N/mm2]
  double shear = 0;   ///< E/(2 (1 + nu)) [N/mm2]
  /// @pre youngs above 0, 0 <= poisson < 0.5
  [[nodiscard]] static PlaneStrainLaw of(double youngs_n_mm2, double poisson);
};

/// Stiffness per unit thickness [N/mm2], unknowns x and y of node 0, of node 1 and so on.
[[nodiscard]] Eigen::Matrix<double, 16, 16> quad_stiffness(const std::array<QuadPoint, 4>& points,
                                                           const PlaneStrainLaw& law);

/// Takes values at the four integration points, linearly in each direction, to the eight nodes.
[[nodiscard]] const Eigen::Matrix<double, 8, 4>& quad_extrapolation();

/// The three nodes of one side of an element, from left to right.
using EdgeNodes = Eigen::Matrix<double, 2, 3>;

/// One integration point of a side.
struct EdgePoint {
  Eigen::Vector3d share;     ///< shape functions of the first, the middle and the last node
  Eigen::Vector2d position;  ///< [mm]
  Eigen::Vector2d along;     ///< tangent times length [mm]
  Eigen::Vector2d outward;   ///< normal to the left of the tangent, times length [mm]
};

/// Three Gauss points over the part [from, to] of a side, in its own coordinate -1 ... 1.
[[nodiscard]] std::array<EdgePoint, 3> edge_points(const EdgeNodes& nodes, double from, double to);

}  // namespace rimload
