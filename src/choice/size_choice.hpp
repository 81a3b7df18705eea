// Which cushion in which size: every one of a catalogue tried on a face, with bands, and ranked.
#pragma once

#include <string>
#include <vector>

#include "choice/size_candidate.hpp"
#include "choice/size_rule.hpp"
#include "fit/parts.hpp"
#include "fit/uncertainty.hpp"

namespace rimload {

struct SizeChoice {
  Case input;
  SizeRule rule;                          ///< as used
  std::vector<SizeCandidate> candidates;  ///< by rank, then those that don't seal, then excluded
  std::vector<DriverShare> drivers;       ///< of the best one's worst reading, the strongest first
  bool any_fits = false;                  ///< the first seals in enough draws and keeps clear
  std::vector<std::string> advice;        ///< what to try when none does
};

struct SizeOptions {
  int n_draws = 100;  ///< 0: no bands
  unsigned seed = 1;
  int n_threads = 1;
  Progress progress = {};
};

/// Why a cushion is left out before it is tried: common practice, no source. A mouth breather or
/// acute failure: no nasal mask. Who can't take the mask off alone or may vomit: no mask over the
/// mouth unless someone watches. A vent that doesn't go with the circuit.
[[nodiscard]] std::vector<std::string> reasons_against(const Case& input, const Cushion& cushion);

/// Tries every cushion of the case's catalogue, each at its own just-sealed straps and
/// `strap_step_mm` tighter, since nobody hits the optimum, and ranks them by `size_rule_for` the
/// case (`rank_candidates`). A cushion that presses injured skin is excluded once tried. What the
/// case says of straps and dressings is left aside. Draws use a coarser rim (`draw_sampling`). The
/// same for every number of threads.
[[nodiscard]] SizeChoice choose_size(const Case& input, const SizeOptions& options);

}  // namespace rimload
