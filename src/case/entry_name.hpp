// Names of the entries of a catalogue.
#pragma once

#include <optional>
#include <set>
#include <string>

namespace rimload {

/// What is wrong with a name, nothing when it is sound: letters, digits, - and _ only, and given
/// once. A name is counted as given either way.
/// @param taken the names before it; this one is added
[[nodiscard]] std::optional<std::string> fault_of_name(const std::string& name,
                                                       std::set<std::string>& taken);

}  // namespace rimload
