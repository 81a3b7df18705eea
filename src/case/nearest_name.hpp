// Which valid name was probably meant.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace rimload {

/// The name that takes the fewest insertions, deletions and replacements of letters to reach
/// [Levenshtein 1966], case ignored; empty when that takes more than half of its letters.
[[nodiscard]] std::string nearest_name(std::string_view word, std::span<const std::string> names);

/// A user's word in quotes for a message: cut short when long, control characters as `?`.
[[nodiscard]] std::string in_quotes(std::string_view word);

/// A sentence's tail that helps after an unknown name: `; nearest valid name: 'oronasal'`, else
/// `; valid: a, b, c`, cut short when there are many.
[[nodiscard]] std::string name_hint(std::string_view word, std::span<const std::string> names);

}  // namespace rimload
