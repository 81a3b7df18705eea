// What was seen at the bedside, held against what the draws foresaw, and what is left of them.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "fit/foresee.hpp"

namespace rimload {

/// How what is seen weighs; from `data/seen.json`: conventions of this project, see there.
struct SeenRule {
  double leak_spread = 0;       ///< one spread of a leak, relative
  double leak_floor = 0;        ///< and at least this [mm3/s]
  double finger_spread = 0;     ///< of a tension, on a logarithmic scale
  double tail = 0;              ///< a leak outside this share and its rest contradicts
  double far_spreads = 0;       ///< so does what lies farther off in every draw
  double fewest_effective = 0;  ///< with fewer draws left, bands are rough
  double little = 0;            ///< redness where less than this is read was not foreseen [N/mm2]
};
[[nodiscard]] const SeenRule& usual_seen_rule();

/// Tensions a finger check stands for, mean over the straps; from `data/seen.json` [N].
struct TensionBound {
  double low_n = 0;
  double high_n = 0;
};
[[nodiscard]] TensionBound bound_of(FingerCheck check);

/// 10 to 90 % before and after; nothing where no draw has a value, or none is left.
struct BeforeAfter {
  std::optional<ValueBand> before;
  std::optional<ValueBand> after;
};

struct LeakCheck {
  std::size_t observation = 0;
  double seen = 0;            ///< [mm3/s]
  double spread = 0;          ///< one spread [mm3/s]
  BeforeAfter foreseen = {};  ///< without the spread [mm3/s]
  double below_share = 0;     ///< of what the draws foresee, spread included; 0.5 where none seats
  bool contradicts = false;
};

struct FingerSeen {
  std::size_t observation = 0;
  FingerCheck check = FingerCheck::two_fingers;
  BeforeAfter pull = {};  ///< of the straps, their mean [N]
  double agreement = 0;   ///< mean likelihood over the draws, 0 to 1
  bool contradicts = false;
};

enum class SkinVerdict {
  injury,        ///< off-load, change the interface, call; whatever is estimated
  not_foreseen,  ///< red where the model expects little load
  foreseen,      ///< red where it expects load
  no_reading,    ///< red where no pressure is given: a lid, or no draw seats
  no_evidence    ///< unchanged: not evidence of safety
};
[[nodiscard]] std::string_view name_of(SkinVerdict verdict);

struct SkinCheck {
  std::size_t observation = 0;
  SkinSeen seen;
  BeforeAfter sensor = {};  ///< of the site at that setting [N/mm2]; none on a lid
  SkinVerdict verdict = SkinVerdict::no_evidence;
};

struct SeenUpdate {
  std::size_t n_draws = 0;
  std::vector<double> weights;  ///< one a draw, the largest 1; all 0 when none is possible
  double effective = 0;         ///< draws left: (sum w)^2 / sum w^2 [Kish 1965]
  BeforeAfter sealing_n;        ///< just-sealed tension, mean over the straps [N]
  BeforeAfter to_sealing_mm;    ///< strap to take in from the case's setting until then [mm]
  BeforeAfter margin;           ///< least at the case's setting [N/mm2]
  BeforeAfter leak;             ///< of the breath at the case's setting [mm3/s]
  BeforeAfter worst;            ///< hardest pressed contact site there [N/mm2]
  double seals_before = 0;      ///< share of the draws that seal at the case's setting
  double seals_after = 0;
  std::vector<LeakCheck> leaks;
  std::vector<FingerSeen> fingers;
  std::vector<SkinCheck> skin;
  bool all_far = false;  ///< no draw comes near everything that was seen

  /// The face contradicts the model: the bands after are not to be used.
  [[nodiscard]] bool contradicts() const;
  /// Too few draws are left for bands.
  [[nodiscard]] bool is_rough() const { return effective < usual_seen_rule().fewest_effective; }
};

/// Weighs each draw by how likely what was seen is in it (importance sampling from the prior):
/// a leak normally spread about the draw's, by the draw's own spread, a finger check as a bound on
/// the draw's tension, soft beyond it. Skin weighs nothing: no curve gives the chance of redness
/// for hours under a pressure; it is held against the site's reading only. Without leaks and
/// fingers the bands after are those before, to the bit.
/// @param input with the observations that `draws` were solved for; their leaks may differ
[[nodiscard]] SeenUpdate update(const Case& input, std::span<const DrawForeseen> draws);

/// One spread of a leak that is shown where `leak` leaks [mm3/s].
[[nodiscard]] double leak_spread(double leak, const Observation& seen);

}  // namespace rimload
