// What is assumed of a cushion, drawn within ranges wider than a catalogued cushion's.
#pragma once

#include <array>

#include "case/cushion.hpp"
#include "fit/estimate.hpp"

namespace rimload {

/// What has a draw of its own. An assumed stiffness widens the draw of the lip's stiffness; an
/// assumed friction is drawn within the range of every cushion's.
inline constexpr std::array drawn_fields{
    CushionField::height,    CushionField::width,  CushionField::rim_depth,
    CushionField::lip_width, CushionField::travel, CushionField::gas_share,
    CushionField::placement, CushionField::straps, CushionField::mass};
/// As drivers, in the same order.
inline constexpr std::array<Driver, drawn_fields.size()> assumed_drivers{
    Driver::cushion_height, Driver::cushion_width, Driver::rim_depth,
    Driver::lip_width,      Driver::travel,        Driver::gas_share,
    Driver::placement,      Driver::anchors,       Driver::mass};

/// Where each lies in its range, 0 to 1.
using AssumedFractions = std::array<double, drawn_fields.size()>;
[[nodiscard]] constexpr AssumedFractions middle_fractions() {
  AssumedFractions out{};
  for (double& each : out) each = 0.5;
  return out;
}

/// A factor or a shift [mm, or a share] in the range of `data/uncertainty.json`, "assumed".
/// @pre field is `stiffness` or one of `drawn_fields`
[[nodiscard]] double assumed_value(CushionField field, double fraction);

/// The cushion with what is assumed of it moved to these fractions; the rest as it is. Rim height
/// and width are scaled about the apex, its depth along z.
[[nodiscard]] Cushion with_assumed(Cushion cushion, const AssumedFractions& fractions);

}  // namespace rimload
