// What the draws of what can't be known say would be seen at the bedside.
#pragma once

#include <span>
#include <vector>

#include "fit/breath_reading.hpp"
#include "fit/parts.hpp"
#include "fit/uncertainty.hpp"

namespace rimload {

/// One draw: when it seals, and the breath at the case's straps and at those of each observation.
struct DrawForeseen {
  bool seals = false;             ///< at some tension up to `strap_tension_limit_n`
  double sealing_n = 0;           ///< just sealed, mean over the straps, as they pull
  double to_sealing_mm = 0;       ///< strap to take in from the case's setting until it just seals,
                                  ///< mean over the straps; negative: to let out
  bool seals_at_case = false;     ///< with the margin that seals in this draw
  BreathReading at_case;          ///< not seated: holds nothing else
  std::vector<BreathReading> at;  ///< one an observation
  std::vector<double> pull_n;     ///< of the straps at each observation, their mean
};

/// The straps of an observation as asked: a tension each, gas off, at placement. Change of length
/// by way of each strap's stiffness, down to slack.
[[nodiscard]] std::vector<double> straps_of(const Observation& seen, const Estimate& estimate);

/// Solves every draw at the case's straps and at those of each of its observations. Tensions pull
/// as the draw's hand sets them, by one factor for all settings. Just sealed is found in the
/// proportion of the case's straps.
/// @param estimate of the case as it is taken, bands and swelling not needed
[[nodiscard]] std::vector<DrawForeseen> foresee(const Estimate& estimate,
                                                std::span<const UncertainInputs> draws,
                                                int n_threads, const Progress& progress = {});

}  // namespace rimload
