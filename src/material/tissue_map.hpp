// Depth and stiffness of the soft tissue over the face.
#pragma once

#include <span>

#include "geometry/bicubic_grid.hpp"
#include "geometry/landmark.hpp"
#include "geometry/skin_map.hpp"

namespace rimload {

/// Soft tissue at one point of the skin, with its slopes along the chart.
struct TissuePoint {
  double depth_mm = 10;        ///< h
  double youngs_n_mm2 = 0.04;  ///< E
  double backing_mm3_n = 0;    ///< compliance of what lies beneath, in series [mm3/N]
  Vec2 depth_slope = Vec2::Zero();
  Vec2 youngs_slope = Vec2::Zero();
  Vec2 backing_slope = Vec2::Zero();
};

/// Smooth fields of depth, modulus and backing over the chart of a `SkinMap`.
///
/// Each is a mean of the landmarks' values weighted by 1/(d^2 + d0^2)^2 in space, d0 = 2 mm, so it
/// never leaves their range.
class TissueMap {
 public:
  TissueMap(const SkinMap& skin, std::span<const Landmark> landmarks);
  /// The same everywhere, for shapes with a closed form. Slopes of `values` are ignored.
  [[nodiscard]] static TissueMap uniform(const TissuePoint& values);
  /// The same with every modulus so many times as large; moduli are uncertain by a factor of
  /// several.
  [[nodiscard]] TissueMap stiffened(double factor) const;
  [[nodiscard]] TissuePoint at(const Vec2& uv, Slopes slopes = Slopes::with) const;

 private:
  TissueMap() = default;
  BicubicGrid<4> fields_;  ///< depth, modulus, backing; the fourth only fills the vector
  double stiffness_factor_ = 1;
};

}  // namespace rimload
