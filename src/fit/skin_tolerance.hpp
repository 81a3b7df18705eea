// How long the skin bears the mask of an estimate, by named curves.
#pragma once

#include <map>
#include <span>
#include <vector>

#include "fit/estimate.hpp"
#include "skin/tolerance_table.hpp"

namespace rimload {

/// One row for each site that is pressed or injured, in the order of the sites; skin and wear as
/// the case says. Empty unless every phase seats.
///
/// Skin found injured has no hours: its row says off-load and call.
/// @param muscle_stress of sites where a slice gave it: peak compressive stress at the bone, where
/// muscle lies that the slice takes as fat [N/mm2]
[[nodiscard]] std::vector<SiteTolerance> skin_tolerance(
    const Case& input, std::span<const PhaseEstimate> phases,
    const std::map<SidedSite, double>& muscle_stress = {});

/// The same estimate, its skin asked anew with the stress in muscle from a slice at every pressed
/// site that has muscle. Takes a slice a site, some 20 ms each.
[[nodiscard]] Estimate with_muscle_stress(Estimate estimate);

}  // namespace rimload
