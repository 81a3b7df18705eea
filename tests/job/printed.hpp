// What a command prints, looked into.
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>

namespace rimload {

inline std::size_t lines_of(const std::string& text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}
inline bool holds(const std::string& text, const std::string& words) {
  return text.find(words) != std::string::npos;
}

}  // namespace rimload
