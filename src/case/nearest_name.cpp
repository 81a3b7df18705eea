#include "case/nearest_name.hpp"

#include <algorithm>
#include <cctype>
#include <numeric>
#include <vector>

namespace rimload {

namespace {

constexpr std::size_t longest_compared = 200;
constexpr std::size_t longest_shown = 80;
constexpr std::size_t most_listed = 24;

std::string lower_case(std::string_view word) {
  std::string out(word.substr(0, longest_compared));
  for (char& c : out) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return out;
}

std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({replaced, row[j] + 1, row[j - 1] + 1});
    }
  }
  return row.back();
}

}  // namespace

std::string nearest_name(std::string_view word, std::span<const std::string> names) {
  const std::string given = lower_case(word);
  std::string best;
  std::size_t least = std::string::npos;
  for (const std::string& name : names) {
    const std::size_t distance = edit_distance(given, lower_case(name));
    if (distance < least && 2 * distance <= name.size()) {
      least = distance;
      best = name;
    }
  }
  return best;
}

std::string in_quotes(std::string_view word) {
  std::string out(word.substr(0, longest_shown));
  for (char& c : out) {
    if (std::iscntrl(static_cast<unsigned char>(c)) != 0) c = '?';
  }
  return "'" + out + (word.size() > longest_shown ? "...'" : "'");
}

std::string name_hint(std::string_view word, std::span<const std::string> names) {
  if (const std::string nearest = nearest_name(word, names); !nearest.empty()) {
    return "; nearest valid name: " + in_quotes(nearest);
  }
  if (names.empty()) return "";
  std::string list;
  for (std::size_t k = 0; k < std::min(names.size(), most_listed); ++k) {
    list += (k == 0 ? "" : ", ") + names[k].substr(0, longest_shown);
  }
  return "; valid: " + list + (names.size() > most_listed ? ", ..." : "");
}

}  // namespace rimload
