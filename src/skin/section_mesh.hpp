// The mesh of a slice through the tissue: layers on bone, flat or over a ridge.
#pragma once

#include <Eigen/Core>
#include <array>
#include <vector>

#include "skin/quadratic_quad.hpp"

namespace rimload {

/// One layer of a slice, the same all along.
struct SectionLayer {
  double thickness_mm = 0;  ///< above 0
  double youngs_n_mm2 = 0;  ///< E, above 0
  double poisson = 0.45;    ///< nu, 0 to below 0.5
  int rows = 1;             ///< of elements
  double row_ratio = 1;     ///< height of the lowest row over that of the highest
};

/// What the tissue is bonded to.
struct SectionBone {
  double radius_mm = 0;       ///< R of a ridge; 0: flat
  double half_angle_rad = 0;  ///< the ridge turns so far to each side, then runs on straight
};

/// A slice to be meshed.
struct SectionPlan {
  std::vector<SectionLayer> layers = {};  ///< from the bone outwards
  SectionBone bone = {};
  std::vector<double> columns_mm = {};  ///< ascending places along the outer face, 0 at the crown
};

/// Eight-node quadrilaterals in columns from bone to outer face, counted column by column from the
/// left and upwards in each.
///
/// x runs along the slice, y out of the skin; the bone's crown is the origin. The bone and both
/// far sides don't move.
struct SectionMesh {
  Eigen::Matrix2Xd nodes;                    ///< [mm]
  std::vector<std::array<int, 8>> elements;  ///< in the order of `QuadNodes`
  std::vector<int> layer_of_element;
  std::vector<bool> fixed;         ///< by node
  std::vector<double> columns_mm;  ///< n_columns + 1 places along the outer face
  int n_rows = 0;

  [[nodiscard]] int n_columns() const { return static_cast<int>(columns_mm.size()) - 1; }
  [[nodiscard]] int element_at(int column, int row) const { return column * n_rows + row; }
  [[nodiscard]] QuadNodes nodes_of(int element) const;
  /// Node numbers of a column's outer side, from left to right, and of its side on the bone.
  [[nodiscard]] std::array<int, 3> outer_side(int column) const;
  [[nodiscard]] std::array<int, 3> bone_side(int column) const;
  [[nodiscard]] EdgeNodes positions_of(const std::array<int, 3>& side) const;
};

/// @pre at least one layer and two columns; a ridge has a half angle above 0 and up to pi/2
/// A place where a ridge turns straight becomes a border of columns.
[[nodiscard]] SectionMesh make_section_mesh(const SectionPlan& plan);

/// Places of columns: `fine` equal ones over [-half_width, half_width], then ever wider ones, each
/// at most `growth` times the last, until `reach_mm` beyond it.
struct ColumnSpread {
  double half_width_mm = 5;
  int fine = 24;
  double reach_mm = 25;
  double growth = 1.5;
};
[[nodiscard]] std::vector<double> spread_columns(const ColumnSpread& spread);

}  // namespace rimload
