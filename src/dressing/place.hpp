// Where a dressing would go.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "contact/equilibrium.hpp"
#include "geometry/site.hpp"
#include "geometry/vec.hpp"
#include "material/tissue_map.hpp"
#include "skin/site_pressure.hpp"

namespace rimload {

/// The printed rule; each number can be changed in the case.
struct DressingRule {
  double bone_depth_below_mm = 5;  ///< a site with thinner tissue ...
  double hours_at_least = 4;       ///< ... worn this long needs one
  double sensor_above_mmhg = 0;    ///< the user's limit; 0: none set
  double times_sealing_need = 2;   ///< or sensor above so many times the pressure to seal
};

struct DressingPlace {
  SidedSite site;
  double length_mm = 0;       ///< along the rim, or the pad's width
  double width_mm = 0;        ///< across, along the skin
  std::string reason;         ///< which part of the rule, with its numbers
  std::vector<Vec3> outline;  ///< closed, on the skin, facial frame [mm]
  bool cut_short = false;     ///< ends before injured skin, past which the site is pressed bare
};

/// What a rule looks at: one phase in balance and the tissue beneath it.
struct DressingQuestion {
  const SkinMap& skin;
  const TissueMap& tissue;
  const SiteFinder& site_of;
  const Mask& mask;
  const PhaseState& state;              ///< the phase of highest contact pressure
  std::span<const SitePressure> sites;  ///< of that phase
  double sealing_need = 0;              ///< contact pressure that seals [N/mm2]
  double hours_planned = 0;
  std::span<const SidedSite> injured = {};  ///< off-load and call: no piece reaches these
};

/// Sites that need a dressing by the rule, the most pressed first, each with an outline that goes
/// past the pressed skin by `dressing_margin_mm`, but ends before injured skin. Sites that are
/// injured, or can't be dressed without reaching those that are, are left out.
[[nodiscard]] std::vector<DressingPlace> dressing_places(const DressingQuestion& question,
                                                         const DressingRule& rule);

/// A piece for one site with its outline, whatever a rule says; nothing where neither rim nor pad
/// presses, or where any piece would reach injured skin. Its reason is empty.
[[nodiscard]] std::optional<DressingPlace> dressing_at(const DressingQuestion& question,
                                                       const SidedSite& site);

/// How far a dressing reaches past the pressed skin [mm]; common practice, no source.
inline constexpr double dressing_margin_mm = 5;

}  // namespace rimload
