// Strain and stress inside a slice of tissue.
#pragma once

#include <Eigen/Core>
#include <array>
#include <span>
#include <vector>

#include "skin/section_body.hpp"

namespace rimload {

/// Strain and stress at one place of a slice in plane strain (no strain along the rim).
struct SectionStrain {
  Eigen::Vector3d strain = Eigen::Vector3d::Zero();  ///< e_xx, e_yy, 2 e_xy
  Eigen::Vector4d stress = Eigen::Vector4d::Zero();  ///< s_xx, s_yy, s_xy, s_zz [N/mm2]

  /// Largest shortening, the least principal strain with its sign turned; 0 or more.
  [[nodiscard]] double compression() const;
  /// Largest engineering shear strain on any plane, the difference of the extreme principal
  /// strains.
  [[nodiscard]] double shear() const;
  /// Largest shear stress on any plane [N/mm2].
  [[nodiscard]] double shear_stress() const;
  /// Von Mises' stress [N/mm2].
  [[nodiscard]] double von_mises() const;
};

/// One integration point of the mesh.
struct SectionPoint {
  Eigen::Vector2d position;  ///< undeformed [mm]
  double area_mm2 = 0;       ///< that it stands for
  int layer = 0;
  int column = 0;
  SectionStrain at;
};

/// All of them, element by element.
[[nodiscard]] std::vector<SectionPoint> section_points(const SectionBody& body,
                                                       const Eigen::VectorXd& displacement);

/// A field to be drawn: nodes of each layer on their own (strain jumps from one to the next), with
/// values taken from the integration points and averaged inside the layer.
struct SectionField {
  Eigen::Matrix2Xd nodes;         ///< undeformed [mm]
  Eigen::Matrix2Xd displacement;  ///< [mm]
  std::vector<SectionStrain> at;
  std::vector<std::array<int, 8>> elements;  ///< in the order of `QuadNodes`
  std::vector<int> layer_of_element;
};
[[nodiscard]] SectionField section_field(const SectionBody& body,
                                         const Eigen::VectorXd& displacement,
                                         std::span<const SectionPoint> points);

/// Stress of the tissue on the bone at the middle of a column's lowest side.
struct BoneStress {
  Eigen::Vector2d position;  ///< [mm]
  double length_mm = 0;      ///< of the side
  double pressure = 0;       ///< on the bone [N/mm2]
  double shear = 0;          ///< on the bone, to the right [N/mm2]
};

/// By column, taken linearly from the integration points of its lowest element.
[[nodiscard]] std::vector<BoneStress> bone_stresses(const SectionBody& body,
                                                    std::span<const SectionPoint> points);

}  // namespace rimload
