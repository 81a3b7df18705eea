// Hours to the tolerance curves, concern and check plan of each site, as JSON.
#pragma once

#include <nlohmann/json.hpp>
#include <span>

#include "skin/tolerance_table.hpp"

namespace rimload {

/// The member `skin` of the result: the curves with what they were measured on, and a row a site.
[[nodiscard]] nlohmann::ordered_json skin_json(std::span<const SiteTolerance> rows);

}  // namespace rimload
