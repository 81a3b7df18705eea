// What a curve says of a site, in words that a report prints.
#pragma once

#include <string>

#include "skin/tolerance.hpp"

namespace rimload {

/// Hours rounded down to a tenth, such as `2.5 h`; `under 0.1 h`; `no time` for 0.
[[nodiscard]] std::string hours_words(double hours);

/// One line, such as `2.5 h to 9.2 h` or `gives no limit at this pressure (not evidence of
/// safety)`. What the curve was measured on is in its record.
[[nodiscard]] std::string words_for(const CurveReading& reading);

}  // namespace rimload
