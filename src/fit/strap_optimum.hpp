// Straps set apart from one another: upper against lower, left against right.
#pragma once

#include <optional>
#include <vector>

#include "fit/breath_reading.hpp"
#include "fit/trial.hpp"

namespace rimload {

/// The just-sealed setting that presses the worst site least, each strap with its own tension.
struct StrapOptimum {
  std::vector<double> tension_n;  ///< of each strap, gas off, at placement
  BreathReading reading;          ///< there
  WorstContact worst;             ///< of the sites that count
  double equal_worst = 0;         ///< the same of equal straps that just seal [N/mm2]
};

/// Whether a strap counts as an upper one: its anchor lies above the mean of all anchors.
[[nodiscard]] bool is_upper(const Mask& mask, const Strap& strap);
/// Whether its anchor lies on the wearer's left.
[[nodiscard]] bool is_left(const Strap& strap);

/// The hardest pressed of the sites that can end a strap window: where the cushion or a tube
/// presses, and beneath the straps too when the case sets a limit. Never an eyelid.
[[nodiscard]] WorstContact worst_that_counts(const BreathReading& reading, const Case& input);

/// Whether a mask loads left and right unlike: readings on paired sites differ by more than 2 % of
/// their sum (a convention of this project).
[[nodiscard]] bool is_lopsided(const BreathReading& reading);

/// Compass search over the ratio of upper to lower tensions and, where the mask sits lopsided, of
/// left to right and of one diagonal to the other: with two pairs, every strap by itself. Each
/// setting is tightened until it just seals. Left and right stay alike where they are loaded alike.
/// @param sealing_n,sealed equal straps that just seal, and what they do
/// @return nothing when no straps can be told apart
[[nodiscard]] std::optional<StrapOptimum> find_strap_optimum(Trial& trial, double sealing_n,
                                                             const BreathReading& sealed);

}  // namespace rimload
