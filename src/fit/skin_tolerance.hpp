// How long the skin bears the mask of an estimate, by named curves.
#pragma once

#include <span>
#include <vector>

#include "fit/estimate.hpp"
#include "skin/tolerance_table.hpp"

namespace rimload {

/// One row for each site that is pressed or injured, in the order of the sites; skin and wear as
/// the case says. Empty unless every phase seats.
///
/// Skin found injured has no hours: its row says off-load and call.
[[nodiscard]] std::vector<SiteTolerance> skin_tolerance(const Case& input,
                                                        std::span<const PhaseEstimate> phases);

}  // namespace rimload
