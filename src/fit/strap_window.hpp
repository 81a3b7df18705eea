// How tight is tight enough, and how tight too tight.
#pragma once

#include <optional>
#include <span>

#include "fit/trial.hpp"

namespace rimload {

/// What ends a window at its upper edge.
enum class WindowEnd {
  site_rise,     ///< a site passes `window_rise` times its just-sealed pressure
  user_limit,    ///< a site passes the user's limit of sensor pressure
  tension_limit  ///< none up to `strap_tension_limit_n`
};

/// Tensions between just sealing and too tight; each is the mean over the straps.
struct StrapWindow {
  bool seals = false;    ///< at some tension up to `strap_tension_limit_n`
  double sealing_n = 0;  ///< lowest tension a strap that seals with margin in every phase
  double upper_n = 0;    ///< not below `sealing_n`; equal to it when sealing is too tight
  WindowEnd upper_end = WindowEnd::tension_limit;
  SidedSite upper_site;      ///< the site that ends it, unless the tension limit does
  double best_effort_n = 0;  ///< nearest to sealing, when none seals
};

inline constexpr double strap_tension_limit_n = 30;
/// Where the window ends: a convention of this project, not a published limit.
inline constexpr double window_rise = 1.25;
/// Sites that at the just-sealed setting read at least this share of the largest reading can end
/// the window; fainter ones grow by large factors from next to nothing.
inline constexpr double window_share = 0.5;

/// Just-sealed tension by bracketing on a logarithmic scale, then the upper edge likewise.
///
/// A user's own limit on `sensor` pressure, if set, ends the window instead of the rise: it counts
/// at every site, those beneath straps and a tube too. The rise counts where the cushion presses.
/// Neither counts on eyelids, on which no pressure is given.
///
/// @param near_n where the search for the lower edge starts, as for `find_just_sealed`
[[nodiscard]] StrapWindow find_strap_window(const Case& input, const FaceInUse& face,
                                            const Mask& mask, std::optional<double> near_n = {});

/// The lower edge alone, straps tightened together in fixed proportion.
/// @param proportion of each strap's tension to the mean over the straps
/// @param near_n where the search starts: quick when the edge is near, and then it is the edge
/// nearest to it; nothing: from far below
[[nodiscard]] StrapWindow find_just_sealed(Trial& trial, std::span<const double> proportion,
                                           std::optional<double> near_n = {});

/// Least of margin - sealed_above over the rim and the phases [N/mm2]; stations that do not touch
/// count their gap times the lip's stiffness as well, so that it grows with tension throughout.
[[nodiscard]] double seal_reserve(Trial& trial, std::vector<double> tension_n);

}  // namespace rimload
