#include "skin/section_body.hpp"

#include <algorithm>
#include <cassert>

#include "units/error.hpp"

namespace rimload {

namespace {

// Adds a uniform load on the part [from, to] of a side to the forces of its nodes.
void add_load(Eigen::VectorXd& force, const SectionMesh& mesh, int column, double from, double to,
              double pressure, double shear) {
  const std::array<int, 3> side = mesh.outer_side(column);
  for (const EdgePoint& point : edge_points(mesh.positions_of(side), from, to)) {
    const Eigen::Vector2d load = shear * point.along - pressure * point.outward;
    for (int k = 0; k < 3; ++k) {
      force.segment<2>(2 * side[static_cast<std::size_t>(k)]) += point.share[k] * load;
    }
  }
}

}  // namespace

SectionBody::SectionBody(const SectionPlan& plan)
    : mesh_(make_section_mesh(plan)), layers_(plan.layers) {
  for (const bool fixed : mesh_.fixed) {
    for (int axis = 0; axis < 2; ++axis) unknown_of_.push_back(fixed ? -1 : n_unknowns_++);
  }
  std::vector<PlaneStrainLaw> laws;
  for (const SectionLayer& layer : layers_) {
    laws.push_back(PlaneStrainLaw::of(layer.youngs_n_mm2, layer.poisson));
  }
  const int n_elements = static_cast<int>(mesh_.elements.size());
  std::vector<Eigen::Triplet<double>> entries;
  entries.reserve(static_cast<std::size_t>(n_elements) * 136);
  for (int element = 0; element < n_elements; ++element) {
    const auto e = static_cast<std::size_t>(element);
    points_.push_back(quad_points(mesh_.nodes_of(element)));
    const auto stiffness =
        quad_stiffness(points_.back(), laws[static_cast<std::size_t>(mesh_.layer_of_element[e])]);
    std::array<int, 16> unknown{};
    for (std::size_t k = 0; k < 16; ++k) {
      unknown[k] = unknown_of_[2 * static_cast<std::size_t>(mesh_.elements[e][k / 2]) + k % 2];
    }
    for (int j = 0; j < 16; ++j) {
      const int column = unknown[static_cast<std::size_t>(j)];
      if (column < 0) continue;
      for (int i = 0; i < 16; ++i) {
        const int row = unknown[static_cast<std::size_t>(i)];
        if (row >= column) entries.emplace_back(row, column, stiffness(i, j));
      }
    }
  }
  Eigen::SparseMatrix<double> matrix(n_unknowns_, n_unknowns_);
  matrix.setFromTriplets(entries.begin(), entries.end());
  factor_.compute(matrix);
  if (factor_.info() != Eigen::Success) throw InternalError("a tissue section has no stiffness");
}

Eigen::VectorXd SectionBody::force_of(std::span<const FaceLoad> loads) const {
  Eigen::VectorXd force = Eigen::VectorXd::Zero(2 * mesh_.nodes.cols());
  for (const FaceLoad& load : loads) {
    assert(load.from_mm < load.to_mm);
    for (int column = 0; column < mesh_.n_columns(); ++column) {
      const double left = mesh_.columns_mm[static_cast<std::size_t>(column)];
      const double right = mesh_.columns_mm[static_cast<std::size_t>(column) + 1];
      const double from = std::max(left, load.from_mm);
      const double to = std::min(right, load.to_mm);
      if (from >= to) continue;
      const double scale = 2 / (right - left);
      add_load(force, mesh_, column, (from - left) * scale - 1, (to - left) * scale - 1,
               load.pressure, load.shear);
    }
  }
  return force;
}

Eigen::VectorXd SectionBody::force_on_column(int column, double shear) const {
  Eigen::VectorXd force = Eigen::VectorXd::Zero(2 * mesh_.nodes.cols());
  add_load(force, mesh_, column, -1, 1, 1, shear);
  return force;
}

Eigen::MatrixXd SectionBody::solve(const Eigen::MatrixXd& forces) const {
  assert(forces.rows() == 2 * mesh_.nodes.cols());
  Eigen::MatrixXd right(n_unknowns_, forces.cols());
  for (Eigen::Index k = 0; k < forces.rows(); ++k) {
    const int row = unknown_of_[static_cast<std::size_t>(k)];
    if (row >= 0) right.row(row) = forces.row(k);
  }
  const Eigen::MatrixXd found = factor_.solve(right);
  Eigen::MatrixXd out = Eigen::MatrixXd::Zero(forces.rows(), forces.cols());
  for (Eigen::Index k = 0; k < forces.rows(); ++k) {
    const int row = unknown_of_[static_cast<std::size_t>(k)];
    if (row >= 0) out.row(k) = found.row(row);
  }
  return out;
}

Eigen::VectorXd SectionBody::nodal_forces(const Eigen::VectorXd& displacement) const {
  Eigen::VectorXd force = Eigen::VectorXd::Zero(displacement.size());
  for (std::size_t e = 0; e < mesh_.elements.size(); ++e) {
    const SectionLayer& layer = layers_[static_cast<std::size_t>(mesh_.layer_of_element[e])];
    const auto stiffness =
        quad_stiffness(points_[e], PlaneStrainLaw::of(layer.youngs_n_mm2, layer.poisson));
    Eigen::Matrix<double, 16, 1> moved;
    for (std::size_t k = 0; k < 8; ++k) {
      moved.segment<2>(2 * static_cast<Eigen::Index>(k)) =
          displacement.segment<2>(2 * mesh_.elements[e][k]);
    }
    const Eigen::Matrix<double, 16, 1> held = stiffness * moved;
    for (std::size_t k = 0; k < 8; ++k) {
      force.segment<2>(2 * mesh_.elements[e][k]) +=
          held.segment<2>(2 * static_cast<Eigen::Index>(k));
    }
  }
  return force;
}

double SectionBody::mean_sinking(const Eigen::VectorXd& displacement, int first, int last) const {
  double sum = 0;
  double length = 0;
  for (int column = first; column < last; ++column) {
    const std::array<int, 3> side = mesh_.outer_side(column);
    for (const EdgePoint& point : edge_points(mesh_.positions_of(side), -1, 1)) {
      Eigen::Vector2d moved = Eigen::Vector2d::Zero();
      for (int k = 0; k < 3; ++k) {
        moved += point.share[k] * displacement.segment<2>(2 * side[static_cast<std::size_t>(k)]);
      }
      sum -= point.outward.dot(moved);
      length += point.outward.norm();
    }
  }
  return sum / length;
}

double SectionBody::side_length(int column) const {
  double length = 0;
  for (const EdgePoint& point : edge_points(mesh_.positions_of(mesh_.outer_side(column)), -1, 1)) {
    length += point.along.norm();
  }
  return length;
}

}  // namespace rimload
