// The dressings that a case says are on.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "case/case.hpp"
#include "case/json_place.hpp"
#include "units/error.hpp"

namespace rimload {

/// Reads the entries of `dressings.worn`. None lies on injured skin, which is taken off load and
/// never dressed to carry on.
/// @param file the catalogue's name, for messages
/// @param faults what is at fault is added, file left empty: a side, a name that the catalogue
/// lacks, a site that is injured
/// @return the sound ones
[[nodiscard]] std::vector<WornDressing> read_worn(const JsonPlace& worn,
                                                  const DressingCatalogue& catalogue,
                                                  const std::string& file,
                                                  std::span<const SidedSite> injured,
                                                  std::vector<Fault>& faults);

}  // namespace rimload
