// What straps do as they are tightened, together and upper against lower.
#pragma once

#include <optional>
#include <vector>

#include "fit/breath_reading.hpp"
#include "fit/strap_window.hpp"

namespace rimload {

/// Tensions of a strap setting, gas off, at placement.
struct UpperLower {
  double upper_n = 0;  ///< of each strap above the middle
  double lower_n = 0;  ///< of each of the others
};

/// One strap setting over the breath.
struct StrapPoint : BreathReading {
  double upper_n = 0;  ///< tension of each strap above the middle, gas off, at placement
  double lower_n = 0;  ///< of each of the others

  [[nodiscard]] double mean_n(const Mask& mask) const;
};

/// The just-sealed setting that presses the worst site least, upper straps against lower.
struct StrapOptimum {
  double upper_n = 0;
  double lower_n = 0;
  double worst = 0;  ///< largest sensor reading of a contact site [N/mm2]
  SidedSite worst_site;
  double equal_worst = 0;  ///< that of equal straps that just seal
};

struct StrapSweep {
  StrapWindow window;
  std::vector<StrapPoint> equal;  ///< all straps alike, tension rising
  std::vector<StrapPoint> split;  ///< at the mean of the just-sealed tension, from lower to upper
                                  ///< straps; empty without both
  std::optional<StrapOptimum> optimum;  ///< when there are both and the mask seals
  /// A tension above the just-sealed one at which the mask leaks again, if the sweep met one.
  std::optional<double> leaks_again_n;
};

/// Whether a strap counts as an upper one: its anchor lies above the mean of all anchors.
[[nodiscard]] bool is_upper(const Mask& mask, const Strap& strap);

/// Travel of the bands from slack [mm], the mean over the straps: tension over stiffness.
[[nodiscard]] double strap_travel_mm(const Mask& mask, double tension_n);

/// One setting, every phase solved.
[[nodiscard]] StrapPoint strap_point(Trial& trial, const UpperLower& setting);

/// Many settings, phase by phase, so that each starts from its neighbour of the same phase.
[[nodiscard]] std::vector<StrapPoint> strap_points(const std::vector<UpperLower>& settings,
                                                   const Case& input, const FaceInUse& face,
                                                   const Mask& mask);

/// Window, sweep of `n_points` equal tensions across it and beyond both edges, sweep of upper
/// against lower, and the optimum.
///
/// Eyelids never count as the worst site: on them no pressure is given.
[[nodiscard]] StrapSweep sweep_straps(const Case& input, const FaceInUse& face, const Mask& mask,
                                      int n_points = 40);

}  // namespace rimload
