// What a face that swells under straps of fixed length does to its skin.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "fit/estimate.hpp"

namespace rimload {

/// One site's reading, the largest over the phases.
struct SwollenSite {
  SidedSite site;
  double before = 0;  ///< sensor reading, unswollen [N/mm2]
  double after = 0;
};

/// Skin raised evenly, tissue deepened as much and as stiff as before, straps as long as before.
struct SwellingStep {
  double raise_mm = 0;
  bool seated = false;             ///< in every phase; else the members below hold nothing
  std::vector<SwollenSite> sites;  ///< contact sites that are pressed before or after, then those
                                   ///< under straps
  /// Strap to let out, each as much, until no site reads more than before the swelling; sites that
  /// before read less than half the largest don't count. Nothing: not even slack straps do.
  std::optional<double> let_out_mm;
  bool seals_let_out = false;  ///< whether it then still seals in every phase
};

/// Steps of `swelling_raises_mm`. Empty when the estimate does not seat in every phase.
[[nodiscard]] std::vector<SwellingStep> swelling_outlook(const Estimate& estimate);

/// From a little to a face that looks swollen; no source says how far skin rises under a mask.
inline constexpr std::array swelling_raises_mm{0.5, 1.0, 2.0};

}  // namespace rimload
