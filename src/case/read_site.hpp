// A place of skin as a file names it.
#pragma once

#include <optional>
#include <vector>

#include "case/json_place.hpp"
#include "geometry/site.hpp"
#include "units/error.hpp"

namespace rimload {

/// Reads `site` and `side` of an object; a site with two sides needs one.
/// @param faults a side at fault is added, file left empty
/// @return nothing when there is no such site
[[nodiscard]] std::optional<SidedSite> read_site(const JsonPlace& place,
                                                 std::vector<Fault>& faults);

}  // namespace rimload
