// A typical cushion brought to the dimensions of another.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "case/cushion.hpp"
#include "case/design_face.hpp"
#include "geometry/rim_outline.hpp"

namespace rimload {

/// The level of the widest place.
struct WidestPlace {};

struct GivenHeight {
  double mm = 0;
  RimEdge edge = RimEdge::inner;
};
struct GivenWidth {
  double mm = 0;
  RimEdge edge = RimEdge::inner;
  std::variant<WidestPlace, WidthLevel> at;
};

/// What is known of a cushion.
struct CushionDimensions {
  std::optional<GivenHeight> height = {};
  std::vector<GivenWidth> widths = {};
  std::optional<double> rim_depth_mm = {};  ///< foremost to hindmost point of the crown
  std::optional<double> lip_width_mm = {};
  std::optional<double> stiffness_n_mm3 = {};  ///< of the lip; bottomed out it keeps its ratio
  std::optional<double> travel_mm = {};
  std::optional<double> mass_kg = {};  ///< of all masses together
};

/// A length that no rim of this shape has.
struct DimensionFault {
  CushionField field = CushionField::height;  ///< height, width or rim_depth
  std::size_t width = 0;                      ///< of the list
  std::string message;
};

struct ScaledCushion {
  Cushion cushion;
  std::vector<DimensionFault> faults;  ///< if any, the cushion is not to be used
};

/// The typical cushion's rim with y times one factor about the apex, x times a factor that goes in
/// straight lines between the levels of the given widths (beyond them it stays), both found so
/// that each given length is met within 0.005 mm, and z times the geometric mean of the two, or so
/// that the given depth is met. A level moves with y: the
/// design face and the apex's place on it are scaled likewise. Without a width x goes as y, without
/// a height y as the mean of x. Lip axes stay; anchors, masses and pad move with x and y of the
/// rim.
///
/// A factor outside 0.6 to 1.6 is a fault: another kind of cushion, or another unit.
/// `assumed` is what neither was given nor can be: those of the typical cushion included.
[[nodiscard]] ScaledCushion scaled_to(const Cushion& typical, const CushionDimensions& given);

}  // namespace rimload
