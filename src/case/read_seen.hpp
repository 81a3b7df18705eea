// What a case says was seen at the bedside.
#pragma once

#include <optional>
#include <vector>

#include "case/case.hpp"
#include "case/json_place.hpp"
#include "units/error.hpp"

namespace rimload {

/// Reads `/seen`, a list of observations. Each tells a leak, a finger check or skin; its straps are
/// one of tension, word and change, or the case's.
/// @param cushion nothing when it could not be found; then only what needs none is checked
/// @param faults what is wrong is added, file left empty
[[nodiscard]] std::vector<Observation> read_seen(const JsonPlace& seen,
                                                 const std::optional<Cushion>& cushion,
                                                 std::vector<Fault>& faults);

/// Skin seen to be injured is injured skin, whatever else is asked of the case.
[[nodiscard]] SafetyAnswers with_injuries(SafetyAnswers safety,
                                          const std::vector<Observation>& seen);

}  // namespace rimload
