// A pressure that reports count area above.
#pragma once

#include "units/units.hpp"

namespace rimload {

/// 32 mmHg, of the capillaries of a nail fold: no threshold of injury [N/mm2].
inline constexpr double nail_fold_pressure = units::from_mmhg(32);

}  // namespace rimload
