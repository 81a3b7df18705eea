// Text to JSON, refusing what a reader could misunderstand.
#pragma once

#include <cstddef>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>

namespace rimload {

/// Objects and arrays within one another, at most.
inline constexpr int max_json_depth = 64;
/// Longest text that is read.
inline constexpr std::size_t max_json_bytes = std::size_t{64} * 1024 * 1024;

/// Parses JSON, strictly.
///
/// Refused: a syntax error (by line and column), a key given twice in one object, nesting deeper
/// than `max_json_depth`, a text longer than `max_json_bytes`, a number too large to hold, a whole
/// number beyond 2^53. JSON itself has no NaN and no infinity.
/// @param file the name of the file, for messages
/// @throws InputError with every key given twice and whole number too large, up to the first of the
/// other faults
[[nodiscard]] nlohmann::json parse_json(std::string_view text, const std::string& file);

}  // namespace rimload
