// The closed curve and the cross-section of a cushion's rim, and their sampling.
#pragma once

#include <vector>

#include "geometry/vec.hpp"

namespace rimload {

/// A point that the crown of the rim passes, in the frame of the mask.
///
/// Mask frame: origin at the apex of the rim (its uppermost point on the midline), axes parallel
/// to the facial ones when the mask sits straight; lengths in mm.
struct RimControl {
  Vec3 position_mask = Vec3::Zero();
  Vec3 axis_mask = Vec3::UnitZ();  ///< from the face outwards, the way the lip is compressed
  double stiffness_factor = 1;     ///< times the lip's stiffness here
};

/// Cross-section of the lip, the same all around.
struct RimSection {
  double lip_width_mm = 9;     ///< across, 3 to 25
  double crown_radius_mm = 8;  ///< of the surface that meets the skin
};

/// A rim as moulded, unloaded.
struct Rim {
  std::vector<RimControl> controls;  ///< closed; from the apex towards the wearer's left
  RimSection section;
};

/// One station of a sampled rim, in the frame of the mask.
struct RimStation {
  Vec3 crown = Vec3::Zero();
  Vec3 tangent = Vec3::UnitX();  ///< along the rim, from the apex towards the wearer's left
  Vec3 axis = Vec3::UnitZ();     ///< out of the face; the lip moves along it
  Vec3 across = Vec3::UnitY();   ///< axis x tangent: out of the mask's opening
  double arc_mm = 0;             ///< arc length from the apex
  double length_mm = 0;          ///< of rim that the station stands for
  double stiffness_factor = 1;
};

/// A rim cut into stations and samples across.
struct SampledRim {
  std::vector<RimStation> stations;
  std::vector<double> offset_mm;  ///< of each sample across, the innermost first
  std::vector<double> drop_mm;    ///< how far each sample lies behind the crown
  std::vector<double> cell_mm;    ///< width that each sample across stands for
  double spacing_mm = 0;          ///< from one sample across to the next
  RimSection section;
  double perimeter_mm = 0;
  Eigen::MatrixXd sample_length_mm;  ///< along the rim, n_across x n_stations

  [[nodiscard]] std::size_t n_stations() const { return stations.size(); }
  [[nodiscard]] std::size_t n_across() const { return offset_mm.size(); }
  /// Sample j of station i, lip undeflected, mask frame [mm].
  [[nodiscard]] Vec3 sample(std::size_t station, std::size_t across) const;
};

struct RimSampling {
  int n_stations = 216;  ///< 16 or more
  int n_across = 7;      ///< odd, 3 or more
  [[nodiscard]] bool operator==(const RimSampling& other) const = default;
};

/// Stations at equal arc length and samples at equal distances across, the outermost ones always a
/// fourteenth of the lip's width inside its borders: there a lip is rounded, and tilted skin meets
/// it at the same place however fine the samples.
///
/// The crown falls away as s^2 / (2 crown radius). The length of rim that a sample stands for is
/// taken at its own offset, so that areas are right where the rim bends in its plane.
/// @pre at least 4 controls; section sizes positive
[[nodiscard]] SampledRim sample_rim(const Rim& rim, RimSampling sampling);

}  // namespace rimload
