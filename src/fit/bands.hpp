// How sure an estimate is: the same mask at the same straps over draws of what can't be known.
#pragma once

#include "fit/estimate.hpp"
#include "fit/parts.hpp"
#include "fit/uncertainty.hpp"

namespace rimload {

struct BandOptions {
  int n_draws = 200;  ///< 1 or more
  unsigned seed = 1;
  int n_threads = 1;
  Progress progress = {};
};

/// The estimate with its bands: each draw with tissue, lip, friction, contact that seals and straps
/// of its own, what is assumed of the cushion likewise, and a face of its own where that was
/// measured or scanned. Draws use a coarser rim (`draw_sampling`). The same for every number of
/// threads. As it was when it does not seat in every phase.
[[nodiscard]] Estimate with_bands(Estimate estimate, const BandOptions& options);

}  // namespace rimload
