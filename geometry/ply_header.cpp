#include "geometry/ply_header.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>
#include <set>
#include <vector>

namespace rimload {

namespace {

using Words = std::vector<std::string_view>;

constexpr std::array<std::string_view, 4> byte_types{"char", "uchar", "int8", "uint8"};
constexpr std::array<std::string_view, 12> other_types{"short", "ushort", "int",     "uint",
                                                       "float", "double", "int16",   "uint16",
                                                       "int32", "uint32", "float32", "float64"};
constexpr std::array<std::string_view, 3> formats{"ascii", "binary_little_endian",
                                                  "binary_big_endian"};

bool one_of(std::string_view word, const auto& words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}
bool is_type(std::string_view word) {
  return one_of(word, byte_types) || one_of(word, other_types);
}

Words words_of(std::string_view line) {
  constexpr std::string_view blanks = " \t\r";
  Words out;
  std::size_t at = line.find_first_not_of(blanks);
  while (at != std::string_view::npos) {
    const std::size_t end = std::min(line.size(), line.find_first_of(blanks, at));
    out.push_back(line.substr(at, end - at));
    at = line.find_first_not_of(blanks, end);
  }
  return out;
}

std::optional<std::size_t> count_of(std::string_view word) {
  std::size_t count = 0;
  const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), count);
  if (error != std::errc() || end != word.data() + word.size()) return std::nullopt;
  return count;
}

// Takes the head's lines one by one; each call gives what is wrong with the line.
struct Header {
  std::size_t n_bytes = 0;
  bool has_format = false;
  std::string element;
  std::set<std::string> found;  // `element/property`

  bool fits(const Words& words) {
    const std::string_view key = words.front();
    if (key == "comment" || key == "obj_info") return true;
    if (key == "format") {
      const bool first = !has_format;
      has_format = true;
      return first && words.size() == 3 && one_of(words[1], formats) && words[2] == "1.0";
    }
    if (!has_format) return false;
    if (key == "element") {
      if (words.size() != 3) return false;
      element = words[1];
      const auto count = count_of(words[2]);
      return found.insert(element).second && count && *count <= n_bytes;
    }
    if (key != "property" || element.empty()) return false;
    const bool list = words.size() > 1 && words[1] == "list";
    if (words.size() != (list ? 5 : 3)) return false;
    const bool typed = list ? one_of(words[2], byte_types) && is_type(words[3]) : is_type(words[1]);
    return typed &&
           found.insert(element + (list ? "/list " : "/") + std::string(words.back())).second;
  }
  [[nodiscard]] std::string lacks() const {
    for (const char* axis : {"vertex/x", "vertex/y", "vertex/z"}) {
      if (found.count(axis) == 0) return std::string("has no ") + axis;
    }
    if (found.count("face/list vertex_indices") + found.count("face/list vertex_index") != 1) {
      return "has no faces, or no list of their vertices";
    }
    return "";
  }
};

}  // namespace

std::string ply_header_fault(std::string_view bytes) {
  constexpr std::size_t most_lines = 1000;
  Header header{.n_bytes = bytes.size(), .element = {}, .found = {}};
  for (std::size_t line = 1; line <= most_lines; ++line) {
    const std::size_t end = bytes.find('\n');
    if (end == std::string_view::npos) return "its head does not end";
    const Words words = words_of(bytes.substr(0, end));
    bytes.remove_prefix(end + 1);
    const bool start = words.size() == 1 && words.front() == "ply";
    if (line > 1 && words.size() == 1 && words.front() == "end_header") return header.lacks();
    if (line == 1 ? !start : words.empty() || !header.fits(words)) {
      return "line " + std::to_string(line) + " of its head is not one of a mesh";
    }
  }
  return "its head does not end";
}

}  // namespace rimload
