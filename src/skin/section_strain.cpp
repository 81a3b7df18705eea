#include "skin/section_strain.hpp"

#include <algorithm>
#include <cmath>

namespace rimload {

namespace {

SectionStrain strain_of(const Eigen::Matrix2d& gradient, const PlaneStrainLaw& law) {
  SectionStrain out;
  out.strain << gradient(0, 0), gradient(1, 1), gradient(0, 1) + gradient(1, 0);
  const double volume = law.lambda * (gradient(0, 0) + gradient(1, 1));
  out.stress << volume + 2 * law.shear * out.strain[0], volume + 2 * law.shear * out.strain[1],
      law.shear * out.strain[2], volume;
  return out;
}

}  // namespace

double SectionStrain::compression() const {
  const double radius = std::hypot(strain[0] - strain[1], strain[2]);
  return std::max(0.0, 0.5 * (radius - strain[0] - strain[1]));
}

double SectionStrain::shear() const {
  // The third principal strain, along the rim, is 0.
  const double radius = std::hypot(strain[0] - strain[1], strain[2]);
  return std::max(0.0, 0.5 * (radius + strain[0] + strain[1])) + compression();
}

double SectionStrain::shear_stress() const {
  const double middle = 0.5 * (stress[0] + stress[1]);
  const double radius = std::hypot(0.5 * (stress[0] - stress[1]), stress[2]);
  return 0.5 * (std::max(middle + radius, stress[3]) - std::min(middle - radius, stress[3]));
}

double SectionStrain::von_mises() const {
  const double xy = stress[0] - stress[1];
  const double yz = stress[1] - stress[3];
  const double zx = stress[3] - stress[0];
  return std::sqrt(0.5 * (xy * xy + yz * yz + zx * zx) + 3 * stress[2] * stress[2]);
}

std::vector<SectionPoint> section_points(const SectionBody& body,
                                         const Eigen::VectorXd& displacement) {
  const SectionMesh& mesh = body.mesh();
  std::vector<SectionPoint> out;
  out.reserve(4 * mesh.elements.size());
  for (std::size_t e = 0; e < mesh.elements.size(); ++e) {
    const int element = static_cast<int>(e);
    const int layer = mesh.layer_of_element[e];
    const SectionLayer& material = body.layers()[static_cast<std::size_t>(layer)];
    const PlaneStrainLaw law = PlaneStrainLaw::of(material.youngs_n_mm2, material.poisson);
    const QuadNodes nodes = mesh.nodes_of(element);
    QuadNodes moved;
    for (int k = 0; k < 8; ++k) {
      moved.col(k) = displacement.segment<2>(2 * mesh.elements[e][static_cast<std::size_t>(k)]);
    }
    for (const QuadPoint& point : body.points_of(element)) {
      out.push_back({.position = nodes * point.share,
                     .area_mm2 = point.area_mm2,
                     .layer = layer,
                     .column = element / mesh.n_rows,
                     .at = strain_of(moved * point.slopes.transpose(), law)});
    }
  }
  return out;
}

SectionField section_field(const SectionBody& body, const Eigen::VectorXd& displacement,
                           std::span<const SectionPoint> points) {
  const SectionMesh& mesh = body.mesh();
  SectionField out;
  out.layer_of_element = mesh.layer_of_element;
  const std::size_t n_layers = body.layers().size();
  std::vector<int> copy_of(n_layers * static_cast<std::size_t>(mesh.nodes.cols()), -1);
  std::vector<int> origin;
  std::vector<int> count;
  for (std::size_t e = 0; e < mesh.elements.size(); ++e) {
    Eigen::Matrix<double, 3, 4> strain;
    Eigen::Matrix<double, 4, 4> stress;
    for (int k = 0; k < 4; ++k) {
      const SectionStrain& at = points[4 * e + static_cast<std::size_t>(k)].at;
      strain.col(k) = at.strain;
      stress.col(k) = at.stress;
    }
    const Eigen::Matrix<double, 3, 8> node_strain = strain * quad_extrapolation().transpose();
    const Eigen::Matrix<double, 4, 8> node_stress = stress * quad_extrapolation().transpose();
    std::array<int, 8> numbers{};
    for (std::size_t k = 0; k < 8; ++k) {
      const int node = mesh.elements[e][k];
      int& copy = copy_of[n_layers * static_cast<std::size_t>(node) +
                          static_cast<std::size_t>(mesh.layer_of_element[e])];
      if (copy < 0) {
        copy = static_cast<int>(origin.size());
        origin.push_back(node);
        count.push_back(0);
        out.at.emplace_back();
      }
      const auto c = static_cast<std::size_t>(copy);
      ++count[c];
      out.at[c].strain += node_strain.col(static_cast<Eigen::Index>(k));
      out.at[c].stress += node_stress.col(static_cast<Eigen::Index>(k));
      numbers[k] = copy;
    }
    out.elements.push_back(numbers);
  }
  out.nodes.resize(2, static_cast<Eigen::Index>(origin.size()));
  out.displacement.resize(2, out.nodes.cols());
  for (std::size_t c = 0; c < origin.size(); ++c) {
    out.nodes.col(static_cast<Eigen::Index>(c)) = mesh.nodes.col(origin[c]);
    out.displacement.col(static_cast<Eigen::Index>(c)) = displacement.segment<2>(2 * origin[c]);
    out.at[c].strain /= count[c];
    out.at[c].stress /= count[c];
  }
  return out;
}

std::vector<BoneStress> bone_stresses(const SectionBody& body,
                                      std::span<const SectionPoint> points) {
  const SectionMesh& mesh = body.mesh();
  std::vector<BoneStress> out;
  for (int column = 0; column < mesh.n_columns(); ++column) {
    const auto first = 4 * static_cast<std::size_t>(mesh.element_at(column, 0));
    // Node 4 is the middle of the lowest side.
    Eigen::Vector4d stress = Eigen::Vector4d::Zero();
    for (int k = 0; k < 4; ++k) {
      stress += quad_extrapolation()(4, k) * points[first + static_cast<std::size_t>(k)].at.stress;
    }
    const EdgeNodes side = mesh.positions_of(mesh.bone_side(column));
    Eigen::Vector2d along = Eigen::Vector2d::Zero();
    double length = 0;
    for (const EdgePoint& point : edge_points(side, -1, 1)) {
      along += point.along;
      length += point.along.norm();
    }
    along.normalize();
    const Eigen::Vector2d normal(-along.y(), along.x());
    const Eigen::Vector2d traction(stress[0] * normal.x() + stress[2] * normal.y(),
                                   stress[2] * normal.x() + stress[1] * normal.y());
    out.push_back({.position = side.col(1),
                   .length_mm = length,
                   .pressure = -normal.dot(traction),
                   .shear = along.dot(traction)});
  }
  return out;
}

}  // namespace rimload
