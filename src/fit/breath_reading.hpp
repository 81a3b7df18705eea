// What one strap setting does over a breath.
#pragma once

#include <vector>

#include "fit/breath.hpp"
#include "fit/trial.hpp"

namespace rimload {

/// Skin, seal and leak over the phases of a breath.
struct BreathReading {
  bool seated = false;              ///< in every phase; else the members below hold nothing
  double least_margin = 0;          ///< over the phases [N/mm2]
  SidedSite weakest_site;           ///< where
  std::vector<double> leak;         ///< of each phase [mm3/s]
  double mean_leak = 0;             ///< over the breath [mm3/s]
  std::vector<SitePressure> sites;  ///< contact sites, then strap sites; the largest sensor
                                    ///< reading, peak and shear over the phases

  [[nodiscard]] bool seals(const Case& input) const;
};

/// The hardest pressed contact site. On eyelids no pressure is given.
struct WorstContact {
  double sensor = 0;  ///< [N/mm2]
  SidedSite site;
};
[[nodiscard]] WorstContact worst_contact(const BreathReading& reading);

/// Takes in one more phase.
void add_phase(BreathReading& reading, const PhaseOfBreath& breath, const TrialPhase& phase,
               const Trial& trial);

/// Every phase solved at the trial's straps.
[[nodiscard]] BreathReading read_breath(Trial& trial);

}  // namespace rimload
