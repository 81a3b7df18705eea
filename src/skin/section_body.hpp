// A slice through the tissue as a linear elastic body, factored once.
#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>
#include <array>
#include <span>
#include <vector>

#include "skin/section_mesh.hpp"

namespace rimload {

/// An even load on a part of the outer face.
struct FaceLoad {
  double from_mm = 0;  ///< along the outer face, below `to_mm`
  double to_mm = 0;
  double pressure = 0;  ///< into the tissue [N/mm2]
  double shear = 0;     ///< along the face, to the right [N/mm2]
};

/// Plane strain, small strain, isotropic layers bonded to each other and to rigid bone.
///
/// Good to a few per cent while strain stays below about a tenth; stiffening is left out.
class SectionBody {
 public:
  explicit SectionBody(const SectionPlan& plan);

  [[nodiscard]] const SectionMesh& mesh() const { return mesh_; }
  [[nodiscard]] const std::vector<SectionLayer>& layers() const { return layers_; }
  [[nodiscard]] const std::array<QuadPoint, 4>& points_of(int element) const {
    return points_[static_cast<std::size_t>(element)];
  }

  /// Forces at the nodes that do the same work as the loads [N/mm], x and y of node 0, of node 1
  /// and so on. Loads beyond the ends of the slice are left out.
  [[nodiscard]] Eigen::VectorXd force_of(std::span<const FaceLoad> loads) const;
  /// The same for the outer side of one column under pressure 1 and shear `shear`.
  [[nodiscard]] Eigen::VectorXd force_on_column(int column, double shear) const;

  /// Displacements of the nodes [mm] under forces [N/mm], one load case a column.
  [[nodiscard]] Eigen::MatrixXd solve(const Eigen::MatrixXd& forces) const;
  /// Forces that hold the nodes where they are [N/mm]: at free ones the load, at fixed ones the
  /// reaction as well.
  [[nodiscard]] Eigen::VectorXd nodal_forces(const Eigen::VectorXd& displacement) const;

  /// Mean displacement into the tissue [mm] of the outer sides of columns first ... last - 1.
  [[nodiscard]] double mean_sinking(const Eigen::VectorXd& displacement, int first, int last) const;
  /// Length of a column's outer side [mm].
  [[nodiscard]] double side_length(int column) const;

 private:
  SectionMesh mesh_;
  std::vector<SectionLayer> layers_;
  std::vector<std::array<QuadPoint, 4>> points_;
  std::vector<int> unknown_of_;  ///< by node and direction, -1 where fixed
  int n_unknowns_ = 0;
  // Counted column by column the band is narrow: an ordering of its own would cost more than it
  // saves.
  Eigen::SimplicialLLT<Eigen::SparseMatrix<double>, Eigen::Lower, Eigen::NaturalOrdering<int>>
      factor_;
};

}  // namespace rimload
