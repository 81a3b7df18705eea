// The corners of an outline rounded off.
#pragma once

#include <span>

#include "geometry/polygon.hpp"

namespace rimload {

/// An outline with no corner sharper than a radius, inwards or outwards: what a disc of that radius
/// reaches when it rolls inside (opening), then what one leaves that rolls outside (closing).
///
/// Where the piece or a bay of it is too narrow for the disc, a smaller disc is used, by steps of a
/// fifth. Corners are found to a twentieth of a millimetre, arcs have chords of 0.3 mm or less.
/// @param polygon simple, counter-clockwise
/// @param radius_mm 0 or more
[[nodiscard]] Polygon round_corners(std::span<const Vec2> polygon, double radius_mm);

}  // namespace rimload
