// What became of a supplier's table, in words.
#pragma once

#include <string>

#include "case/supplier_table.hpp"

namespace rimload {

/// Cushions made and from which typical one, what was assumed of all and of some, columns that were
/// not used, names that changed. As long as it takes: nothing is left out.
[[nodiscard]] std::string import_report(const ImportedCushions& imported);

}  // namespace rimload
