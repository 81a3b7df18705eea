// Rules of the code that can be read off its text.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "architecture/source_file.hpp"

namespace rimload::architecture {

inline constexpr int most_lines = 400;    ///< of a file
inline constexpr int most_columns = 100;  ///< of a line, in characters (UTF-8)

/// `file:line: what is wrong` for files of more than 400 lines and lines of more than 100 columns.
[[nodiscard]] std::vector<std::string> size_faults(std::span<const SourceFile> files);

/// Work left to do in the code instead of in an issue: TO-DO and FIX-ME, written without hyphen.
[[nodiscard]] std::vector<std::string> unfinished_work(std::span<const SourceFile> files);

/// Output, clocks, environment and chance in a module below the report, where results may depend
/// on arguments only. Comments are not searched.
[[nodiscard]] std::vector<std::string> side_effects(std::span<const SourceFile> files);

/// Headers that do not start with a comment saying what they are for.
[[nodiscard]] std::vector<std::string> headers_without_comment(std::span<const SourceFile> files);

/// What is at the top of the project though it should not be, and what is missing there.
/// Dotfiles may be there, and the build folders that git does not hold.
[[nodiscard]] std::vector<std::string> top_level_faults(std::span<const std::string> names);

}  // namespace rimload::architecture
