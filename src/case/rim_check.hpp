// Whether a rim given by its midline and left points can be a cushion's rim.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/rim.hpp"

namespace rimload {

/// Something wrong at one point of the left half of a rim.
struct RimFault {
  std::size_t point;
  std::string message;
};

/// What is wrong with the half rim's points: first at the origin, last on the midline, between
/// them to the left and in order round the opening, 2 mm apart or more, axes out of the face.
[[nodiscard]] std::vector<RimFault> half_rim_faults(const std::vector<RimControl>& half);

/// The whole rim: the left half, then its mirror image back to the apex.
/// @pre the half has no faults
[[nodiscard]] Rim whole_rim(const std::vector<RimControl>& half, RimSection section);

/// Where the lip's inner edge would fold: the rim bends in its own plane with a radius below half
/// the lip's width. Nothing when it does so nowhere.
[[nodiscard]] std::optional<RimFault> folded_lip(const Rim& rim, std::size_t n_half);

}  // namespace rimload
