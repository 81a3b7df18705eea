// Two states of the same face side by side.
#pragma once

#include <string>

#include "report/image.hpp"
#include "report/scene.hpp"

namespace rimload {

/// A page 2000 px wide: both scenes from the front at one scale with their subtitles above them,
/// the first one's title, one legend for both, and the caution.
[[nodiscard]] Image draw_before_after(const Scene& before, const Scene& after);

}  // namespace rimload
