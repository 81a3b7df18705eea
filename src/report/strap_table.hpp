// The strap window as a table and in words.
#pragma once

#include <string>

#include "report/strap_chart.hpp"

namespace rimload {

/// `strap-window.csv`: a row a setting. `sweep` is `equal` or `split`; then tension of upper and
/// lower straps [N], travel from slack [mm], seated (yes, no), least margin over the phases
/// [cmH2O] and where, leak of each phase and mean of the breath [L/min], and the sensor reading of
/// each site and side [mmHg]. Cells of a mask that does not seat stay empty.
[[nodiscard]] std::string strap_csv(const StrapReport& report);

/// The window in at most 25 lines: where it seals, where it is too tight, how it shows at the
/// bedside, and what would widen it.
[[nodiscard]] std::string strap_finding(const StrapReport& report);

}  // namespace rimload
