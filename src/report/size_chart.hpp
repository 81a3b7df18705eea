// All cushions of a catalogue on one face, at a glance.
#pragma once

#include "choice/size_choice.hpp"
#include "report/image.hpp"

namespace rimload {

/// A page 1400 px wide, a row a cushion in the order of their ranks: name, size and type, the worst
/// reading on the skin with its band on one scale, how surely it seals, strap tension, leak, and
/// what stands against it.
[[nodiscard]] Image draw_size_chart(const SizeChoice& choice);

}  // namespace rimload
