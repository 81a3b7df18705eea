// From an estimate to what its picture shows.
#pragma once

#include "fit/estimate.hpp"
#include "report/scene.hpp"

namespace rimload {

/// Pressure of the phase of lowest gas pressure, in which the skin is pressed hardest; gaps of the
/// phase of highest gas pressure. The scene points into the estimate, which must outlive it.
[[nodiscard]] Scene scene_of(const Estimate& estimate);

}  // namespace rimload
