// What a case asks of the straps.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "case/case.hpp"
#include "case/json_place.hpp"
#include "units/error.hpp"

namespace rimload {

/// The word that stands in for straps left out: appropriate for a nasal mask, else in_window.
[[nodiscard]] StrapWord usual_strap_word(CushionType type);

/// Reads `/straps`: a tension for each strap, or a word that goes with the cushion's type.
/// @param cushion nothing when it could not be found; then only what needs none is checked
/// @param faults what is wrong is added, file left empty
/// @return nothing given: no tension and no word
[[nodiscard]] StrapRequest read_straps(const JsonPlace& straps,
                                       const std::optional<Cushion>& cushion,
                                       std::vector<Fault>& faults);

}  // namespace rimload
