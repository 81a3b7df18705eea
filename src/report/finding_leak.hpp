// Where air passes and why, in words.
#pragma once

#include "fit/estimate.hpp"
#include "report/finding_lines.hpp"

namespace rimload {

/// Jets into an eye, the first leak, the breath's mean beside the limits.
/// @pre every phase seats
void add_leak(const Estimate& estimate, FindingLines& out);
/// What breaks the seal beside the fit, largest first, as means over the breath; dentures.
/// @pre every phase seats
void add_causes(const Estimate& estimate, FindingLines& out);

}  // namespace rimload
