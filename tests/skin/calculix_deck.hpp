// An input file for CalculiX, the open finite-element program, from a slice; and what it printed.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "skin/section_mesh.hpp"

namespace rimload {

/// Elements CPE8R with the same nodes, materials, supports and forces. Numbers have twelve digits.
/// @param force at the nodes [N/mm], x and y of node 0, of node 1 and so on
[[nodiscard]] std::string calculix_deck(const SectionMesh& mesh,
                                        const std::vector<SectionLayer>& layers,
                                        const Eigen::VectorXd& force);

/// Displacements and stresses as CalculiX prints them, to seven digits.
struct CalculixResult {
  Eigen::Matrix2Xd displacement;  ///< by node [mm]
  /// By element and integration point: s_xx, s_yy, s_zz, s_xy [N/mm2].
  std::vector<Eigen::Vector4d> stress;
};
[[nodiscard]] CalculixResult read_calculix(const std::string& text, int n_nodes, int n_elements);

}  // namespace rimload
