// The project's files as text, for the tests that read them.
#pragma once

#include <filesystem>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace rimload::architecture {

struct SourceFile {
  std::string path;  ///< relative to the top of the project, with `/`
  std::string text;
};

/// Every C++ file (.hpp, .cpp) below `folders`, sorted by path.
/// @throws std::filesystem::filesystem_error when a folder is missing.
[[nodiscard]] std::vector<SourceFile> read_cpp_files(const std::filesystem::path& root,
                                                     std::span<const std::string_view> folders);

/// The lines of a text, without their ends.
[[nodiscard]] std::vector<std::string_view> lines_of(std::string_view text);

/// Whether `word` stands in `line` as a word of its own: `printf` is in `std::printf(` but not in
/// `snprintf(`.
[[nodiscard]] bool has_word(std::string_view line, std::string_view word);

[[nodiscard]] bool is_header(const SourceFile& file);

}  // namespace rimload::architecture
