// The samples of a forehead pad.
#pragma once

#include <vector>

#include "contact/mask.hpp"

namespace rimload {

struct PadSample {
  std::size_t row, column;
  Vec3 position_mask;
  double area_mm2;
};

/// Samples at the middle of equal cells about 2.5 mm wide over the pad's face.
[[nodiscard]] std::vector<PadSample> sample_pad(const ForeheadPad& pad);

}  // namespace rimload
