// What a face that swells under straps of fixed length does to its skin.
#pragma once

#include <array>

#include "fit/estimate.hpp"

namespace rimload {

/// The same estimate with its swelling steps, one for each of `swelling_raises_mm`; as it was when
/// it does not seat in every phase.
[[nodiscard]] Estimate with_swelling(Estimate estimate);

/// From a little to a face that looks swollen; no source says how far skin rises under a mask.
inline constexpr std::array swelling_raises_mm{0.5, 1.0, 2.0};

}  // namespace rimload
