#include "case/entry_name.hpp"

#include <algorithm>

#include "case/nearest_name.hpp"

namespace rimload {

std::optional<std::string> fault_of_name(const std::string& name, std::set<std::string>& taken) {
  const auto allowed = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '_';
  };
  const bool twice = !taken.insert(name).second;
  if (!std::all_of(name.begin(), name.end(), allowed)) {
    return "a name holds letters, digits, - and _ only";
  }
  if (twice) return in_quotes(name) + " is given twice";
  return std::nullopt;
}

}  // namespace rimload
