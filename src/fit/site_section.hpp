// The slice through the tissue where a site is pressed hardest.
#pragma once

#include <optional>
#include <vector>

#include "fit/estimate.hpp"
#include "skin/section.hpp"

namespace rimload {

/// A slice across the rim, as an estimate loads it.
struct SiteSection {
  SidedSite place;
  Phase phase = Phase::continuous;
  double line_force_n_mm = 0;          ///< contact force per length of rim
  SectionTissue tissue;                ///< beneath the hardest pressed sample, swelling included
  SectionDressing dressing;            ///< on it there, if any
  std::vector<StationSample> samples;  ///< those pressed, from the inside of the rim outwards
  SectionAnswer answer;
};

/// The slice at the station of the site's hardest pressed sample, over phases and sides.
///
/// Tissue is taken as deep as beneath that sample and on flat, rigid bone:
/// what lies beneath it (cartilage, teeth, jaw) and the curve of the skin are left out. A dressing
/// is taken as going on beyond the slice, glued on.
/// @param side nothing: the harder pressed one
/// @return nothing where no phase seats or the rim does not press the site
[[nodiscard]] std::optional<SiteSection> site_section(const Estimate& estimate, Site site,
                                                      std::optional<Side> side);

}  // namespace rimload
