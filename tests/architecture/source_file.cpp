#include "architecture/source_file.hpp"

#include <algorithm>
#include <cctype>
#include <fstream>
#include <iterator>

namespace rimload::architecture {

std::vector<SourceFile> read_cpp_files(const std::filesystem::path& root,
                                       std::span<const std::string_view> folders) {
  std::vector<SourceFile> files;
  for (const std::string_view folder : folders) {
    for (const auto& entry : std::filesystem::recursive_directory_iterator(root / folder)) {
      const std::filesystem::path& path = entry.path();
      if (path.extension() != ".hpp" && path.extension() != ".cpp") continue;
      std::ifstream in(path, std::ios::binary);
      files.push_back({path.lexically_relative(root).generic_string(),
                       {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()}});
    }
  }
  std::ranges::sort(files, {}, &SourceFile::path);
  return files;
}

std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    lines.push_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

namespace {
bool is_name_part(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_'; }
}  // namespace

bool has_word(std::string_view line, std::string_view word) {
  for (std::size_t at = line.find(word); at != std::string_view::npos;
       at = line.find(word, at + 1)) {
    const std::size_t end = at + word.size();
    const bool starts = at == 0 || !is_name_part(word.front()) || !is_name_part(line[at - 1]);
    const bool ends = end == line.size() || !is_name_part(word.back()) || !is_name_part(line[end]);
    if (starts && ends) return true;
  }
  return false;
}

bool is_header(const SourceFile& file) { return file.path.ends_with(".hpp"); }

}  // namespace rimload::architecture
