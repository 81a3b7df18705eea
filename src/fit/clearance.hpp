// How far a placed rim keeps from the places it must not reach.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "case/case.hpp"
#include "contact/equilibrium.hpp"

namespace rimload {

/// What a rim must keep clear of.
enum class KeepClear {
  eye_corner,  ///< inner canthus or lower lid: the mask does not dig into the eyes
  nostril,     ///< the lip does not cover a nostril
  upper_lip,   ///< a nasal mask ends above the red of the upper lip
  lower_lip,   ///< a mask over nose and mouth holds the lower lip inside
  chin_end     ///< and does not hang over the end of the chin
};
/// `eye_corner`, `nostril`, `upper_lip`, `lower_lip` or `chin_end`.
[[nodiscard]] std::string_view name_of(KeepClear what);

struct Clearance {
  KeepClear what = KeepClear::eye_corner;
  Side side = Side::midline;
  double distance_mm = 0;  ///< negative: past it
  double least_mm = 0;     ///< what it should be: a convention of this project
  [[nodiscard]] bool too_near() const { return distance_mm < least_mm; }
};

/// What the fault means, in a sentence with the distance.
[[nodiscard]] std::string words_for(const Clearance& clearance);

/// Every clearance that matters for the mask's type, faults or not: distance from eye corner, lower
/// lid and nostril to the nearest sample of the lip on the skin (gap 1 mm or less); height of that
/// skin above or below the lips, of the lip's edge, on the skin or not, above the chin's end.
///
/// That a mask neither digs into the eyes nor hangs over the chin, and holds nose or nose and
/// mouth, is common practice, no source; the distances are conventions of this project.
[[nodiscard]] std::vector<Clearance> rim_clearances(const PhaseState& state, CushionType type,
                                                    std::span<const Landmark> landmarks);

}  // namespace rimload
