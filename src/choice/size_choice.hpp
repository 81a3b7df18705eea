// Which cushion in which size: every one of a catalogue tried on a face, with bands, and ranked.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "fit/breath_reading.hpp"
#include "fit/estimate_at.hpp"
#include "fit/strap_window.hpp"
#include "fit/uncertainty.hpp"

namespace rimload {

/// By what cushions are ranked; from `data/size-choice.json`, conventions of this project.
struct SizeRule {
  double strap_step_mm = 0;   ///< every strap is taken so much shorter than just sealed
  double seals_in_share = 0;  ///< of the draws, to count as sealing
  double tie_share = 0;       ///< a tie: in this share of the draws or more the order is reversed
};
[[nodiscard]] const SizeRule& usual_size_rule();

/// What one draw of the uncertain inputs gives a cushion.
struct SizeDraw {
  bool seals = false;
  double sealing_n = 0;  ///< just-sealed tension, mean over the straps
  double worst = 0;      ///< largest sensor reading of a contact site at the setting [N/mm2]
  double leak = 0;       ///< of the breath, at the setting [mm3/s]
};

/// A cushion on the face.
struct SizeCandidate {
  Cushion cushion;
  std::vector<std::string> excluded;    ///< why it is not for this wearer, whatever its fit
  StrapWindow window;                   ///< as the inputs are taken
  std::optional<Estimate> estimate;     ///< at the setting; nothing: it doesn't seal or seat there
  WorstContact worst;                   ///< then
  std::vector<Clearance> too_near;      ///< then
  std::vector<SizeDraw> draws;          ///< empty for one excluded
  double seals_share = 0;               ///< of the draws
  std::optional<ValueBand> worst_band;  ///< over the draws that seal [N/mm2]
  std::optional<ValueBand> leak_band;   ///< [mm3/s]
  std::optional<ValueBand> sealing_band;  ///< [N]
  bool leaks_too_much = false;            ///< median leak of the breath above the case's limit
  bool fits = false;  ///< not excluded, seals in enough draws, leaks within the limit, keeps clear
  std::optional<std::size_t> rank;  ///< from 1; those tied share one; nothing: not ranked

  /// Of the worst reading: over the draws, or as the inputs are taken without any [N/mm2].
  [[nodiscard]] double median_worst() const {
    return worst_band ? worst_band->median : worst.sensor;
  }
};

struct SizeChoice {
  Case input;
  std::vector<SizeCandidate> candidates;  ///< by rank, then those that don't seal, then excluded
  std::vector<DriverShare> drivers;       ///< of the best one's worst reading, the strongest first
  bool any_fits = false;                  ///< the first seals in enough draws and keeps clear
  std::vector<std::string> advice;        ///< what to try when none does
};

struct SizeOptions {
  int n_draws = 100;  ///< 0: no bands
  unsigned seed = 1;
  int n_threads = 1;
  /// Told after each part of the work how many parts of how many are done; from one thread at a
  /// time.
  std::function<void(int, int)> progress = {};
};

/// Why a cushion is left out before it is tried: common practice, no source. A mouth breather or
/// acute failure: no nasal mask. Who can't take the mask off alone or may vomit: no mask over the
/// mouth unless someone watches. A vent that doesn't go with the circuit.
[[nodiscard]] std::vector<std::string> reasons_against(const Case& input, const Cushion& cushion);

/// Tries every cushion of the case's catalogue, each at its own just-sealed straps and
/// `strap_step_mm` tighter, since nobody hits the optimum, and ranks them: first those that seal in
/// `seals_in_share` of the draws, leak within the case's limit (hair, tube and mouth included) and
/// keep clear of eyes, nostrils, lips and chin; of those the lowest median of the worst reading. A
/// cushion that presses injured skin is excluded once tried. What the case says of straps and
/// dressings is left aside. Draws use a coarser rim
/// (`draw_sampling`). The same for every number of threads.
[[nodiscard]] SizeChoice choose_size(const Case& input, const SizeOptions& options,
                                     const SizeRule& rule = usual_size_rule());

}  // namespace rimload
