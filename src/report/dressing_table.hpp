// The choice of dressings as a table and in words.
#pragma once

#include <string>

#include "choice/dressing_choice.hpp"

namespace rimload {

/// `dressings.csv`: a row for every dressing at every place, and one for the bare skin of each:
/// place, sides, dressing, kind, thickness [mm]; at the case's straps tension [N], leak of the
/// breath [L/min] and reading [mmHg]; just sealed tension [N], reading, peak [mmHg], shear [kPa],
/// area in contact [mm2], strains in skin and fat, pressure on bone [mmHg]; the site next door that
/// rises most with its reading before and after [mmHg]; whether it helps, why, and its flags.
[[nodiscard]] std::string dressing_csv(const DressingChoice& choice);

/// The choice in at most 25 lines.
[[nodiscard]] std::string dressing_finding(const DressingChoice& choice);

}  // namespace rimload
