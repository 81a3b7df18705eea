// What straps do as they are tightened, together and upper against lower.
#pragma once

#include <optional>
#include <vector>

#include "fit/strap_optimum.hpp"
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

struct StrapSweep {
  StrapWindow window;
  StrapPoint edge;                ///< where it just seals or, when none seals, comes nearest to it
  std::vector<StrapPoint> equal;  ///< all straps alike, tension rising
  std::vector<StrapPoint> split;  ///< at the mean of the just-sealed tension, from lower to upper
                                  ///< straps; empty without both
  std::optional<StrapOptimum> optimum;  ///< when the mask seals and straps can be told apart
  /// A tension above the just-sealed one at which the mask leaks again, if the sweep met one.
  std::optional<double> leaks_again_n;
};

/// Travel of the bands from slack [mm], the mean over the straps: tension over stiffness.
[[nodiscard]] double strap_travel_mm(const Mask& mask, double tension_n);

/// One setting, every phase solved.
[[nodiscard]] StrapPoint strap_point(Trial& trial, const UpperLower& setting);

/// Many settings, phase by phase, so that each starts from its neighbour of the same phase.
[[nodiscard]] std::vector<StrapPoint> strap_points(const std::vector<UpperLower>& settings,
                                                   const Case& input, const FaceInUse& face,
                                                   const Mask& mask);

struct SweepOptions {
  int n_points = 40;  ///< of equal tensions
  int n_threads = 1;
};
/// Window, sweep of equal tensions across it and beyond both edges, sweep of upper against lower,
/// and the optimum over separate straps.
[[nodiscard]] StrapSweep sweep_straps(const Case& input, const FaceInUse& face, const Mask& mask,
                                      const SweepOptions& options = {});

}  // namespace rimload
