// Hours to reach each named curve, site by site, as a band.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "geometry/site.hpp"
#include "skin/site_pressure.hpp"
#include "skin/skin_modifier.hpp"
#include "skin/tolerance_curve.hpp"

namespace rimload {

/// What presses one site in one phase of the breath. Stresses [N/mm2], each 0 or more.
struct PhaseLoad {
  double sensor = 0;      ///< largest mean over 1 cm2
  double mean = 0;        ///< over the area in contact; above `sensor` where that area is narrow
  double peak = 0;        ///< of any sample; only a remark is made of it
  double shear = 0;       ///< over the same area as the larger of `sensor` and `mean`
  double time_share = 1;  ///< of the breath; those of a site sum to 1
};

/// One site as it is asked about.
struct SiteQuestion {
  SidedSite place;
  std::vector<PhaseLoad> phases;  ///< one or more
  std::optional<double>
      muscle_stress;  ///< peak compressive stress in muscle, from a section [N/mm2]
  SiteSkin skin;
};

/// Whether anything presses on the site in any phase.
[[nodiscard]] bool is_pressed(const SiteQuestion& question);

enum class Wearer { adult, child };

/// How long the mask is to be worn, and how sure the pressures are.
struct WearPlan {
  double hours_a_day = 0;          ///< planned from now on without a break, 0 or more [h]
  int days = 1;                    ///< 1 or more
  double hours_worn = 0;           ///< already, since the site was last off-loaded, 0 or more [h]
  std::optional<double> policy_h;  ///< local policy: check at least this often, above 0 [h]
  /// Share by which pressure and shear may lie off either way, 0 to below 1; nothing: the default
  /// of `data/tolerance-curves.json`, assumed.
  std::optional<double> pressure_spread;
  Wearer wearer = Wearer::adult;
};

enum class Verdict {
  hours,                ///< the band says when
  at_once,              ///< reached at once even at the favourable end
  no_limit,             ///< none at this pressure even at the cautious end: not evidence of safety
  blood_flow_may_stop,  ///< at the cautious end; no time
  blood_flow_stops,     ///< at the typical value; no time
  reference,            ///< a figure to read beside, never a threshold
  not_applicable        ///< with the reason
};
/// The name in files, such as `no_limit`.
[[nodiscard]] std::string_view name_of(Verdict verdict);

/// Hours from now. An end that is nothing lies where the curve gives no limit.
struct HoursBand {
  double low_h = 0;        ///< cautious: highest load, weakest tissue, hours worn taken off
  HoursLimit typical_h;    ///< modifiers counted, hours worn taken off; not below `low_h`
  HoursLimit high_h;       ///< favourable: mean load of the breath, strongest tissue, nothing worn
  double low_fresh_h = 0;  ///< as `low_h` with nothing worn yet
};

/// What one curve says of one site.
struct CurveReading {
  ToleranceCurve curve = ToleranceCurve::pressure_time;
  Verdict verdict = Verdict::not_applicable;
  std::optional<HoursBand> hours;  ///< with `hours` and `at_once`
  double times_reference = 0;      ///< with `reference`: pressure over the figure
  std::string because;             ///< with `not_applicable`
};

/// A load: `mild` for the favourable end of a band, `harsh` for the cautious one.
struct LoadBand {
  double mild = 0;
  double typical = 0;
  double harsh = 0;
};
/// What acts on the skin [N/mm2], mild <= typical <= harsh.
struct LoadOnSkin {
  LoadBand pressure;
  LoadBand shear;
};
/// The load itself, which a report shows.
///
/// mild: sensor, mean over the breath, less the spread. typical: sensor, highest of the phases.
/// harsh: the larger of sensor and mean, highest, more by the spread. Shear likewise; its harsh end
/// also takes the friction of moist skin where the balance was found with dry.
/// @throws InternalError for a question or plan out of its ranges, naming value and unit
[[nodiscard]] LoadOnSkin load_on_skin(const SiteQuestion& question, const WearPlan& plan);

/// The pressure that sound skin would bear as hardly as this skin bears its own: typical and harsh
/// end over what the modifiers leave [N/mm2].
/// @throws InternalError for a question or plan out of its ranges, naming value and unit
[[nodiscard]] LoadBand pressure_band(const SiteQuestion& question, const WearPlan& plan);
/// The same with shear counted as pressure by `pressure_with_shear`; the law is carried over from
/// the sacrum to other sites, and to curves measured without shear: assumed.
[[nodiscard]] LoadBand shear_band(const SiteQuestion& question, const WearPlan& plan);

/// Every curve's word on a site, in the order of `tolerance_curves`; none where the skin is
/// injured: injury has no hours.
///
/// More pressure, shear or stress, more hours worn or any modifier never lengthens an end; a wider
/// spread gives a band that holds the narrower.
/// @throws InternalError for a question or plan out of its ranges, naming value and unit
[[nodiscard]] std::vector<CurveReading> curve_readings(const SiteQuestion& question,
                                                       const WearPlan& plan);

/// Pressure by site in one phase, such as `site_pressures` and `strap_pressures` give it.
struct SitesInPhase {
  std::span<const SitePressure> sites;
  double time_share = 1;
};
/// One question a site, in the order in which sites first appear, skin dry and sound. A site that a
/// phase doesn't list bears nothing in it. The peak shear is scaled to the area of the pressure as
/// the peak pressure is.
[[nodiscard]] std::vector<SiteQuestion> site_questions(std::span<const SitesInPhase> phases);

}  // namespace rimload
