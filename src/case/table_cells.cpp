#include "case/table_cells.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <locale>
#include <sstream>

#include "case/nearest_name.hpp"

namespace rimload {

void TableCells::fault(const CsvRow& row, const std::string& column, std::string message) {
  std::string place = line_words(row.line);
  if (!column.empty()) place += ", column " + in_quotes(column);
  faults_.push_back({file_, std::move(place), std::move(message)});
}

std::string TableCells::text(const CsvRow& row, const std::string& column) const {
  const auto& headers = table_.header.fields;
  const auto found = std::find(headers.begin(), headers.end(), column);
  if (found == headers.end()) return {};
  return row.fields[static_cast<std::size_t>(found - headers.begin())];
}

std::optional<std::string> TableCells::needed_text(const CsvRow& row, const std::string& column) {
  std::string out = text(row, column);
  if (out.empty()) {
    fault(row, column, "is empty, and can't be assumed");
    return std::nullopt;
  }
  return out;
}

template <typename Meaning>
std::optional<Meaning> TableCells::meaning_of(const CsvRow& row,
                                              const WordColumn<Meaning>& column) {
  if (column.always) return column.always;
  const auto word = needed_text(row, column.column);
  if (!word) return std::nullopt;
  const auto found = column.means.find(*word);
  if (found != column.means.end()) return found->second;
  std::vector<std::string> known;
  for (const auto& [each, unused] : column.means) known.push_back(each);
  fault(row, column.column,
        fmt::format("{} has no meaning in the column map{}", in_quotes(*word),
                    name_hint(*word, known)));
  return std::nullopt;
}

std::optional<CushionType> TableCells::meaning(const CsvRow& row,
                                               const WordColumn<CushionType>& column) {
  return meaning_of(row, column);
}
std::optional<bool> TableCells::meaning(const CsvRow& row, const WordColumn<bool>& column) {
  return meaning_of(row, column);
}

std::optional<double> TableCells::number(const CsvRow& row, const NumberColumn& column,
                                         const std::optional<Limits>& limits) {
  std::string digits = text(row, column.column);
  if (digits.empty()) return std::nullopt;
  const std::string given = in_quotes(digits);
  const auto refuse = [&](std::string message) {
    fault(row, column.column, std::move(message));
    return std::nullopt;
  };
  if (map_.decimal_mark == ',') {
    if (digits.find('.') != std::string::npos) {
      return refuse(given + " has a point, though the column map's decimal_mark is ','");
    }
    std::replace(digits.begin(), digits.end(), ',', '.');
  } else if (digits.find(',') != std::string::npos) {
    return refuse(given +
                  " has a comma: if it is a decimal comma, say \"decimal_mark\": \",\" in the "
                  "column map");
  }
  // A stream, since not every library has from_chars for floating point.
  std::istringstream stream(digits);
  stream.imbue(std::locale::classic());
  double value = 0;
  if (!(stream >> std::noskipws >> value) ||
      stream.peek() != std::istringstream::traits_type::eof()) {
    return refuse(
        fmt::format("{} is not a number; allowed: digits with at most one decimal mark, "
                    "without unit (the column map says {})",
                    given, column.unit));
  }
  if (!(value > 0) || value > 1e6) {
    return refuse(fmt::format("{} {}; allowed: above 0", given, column.unit));
  }
  value *= column.factor;
  if (limits && (value < limits->low || value > limits->high)) {
    return refuse(fmt::format("{} {} is out of range; allowed: {:g} to {:g} {}", given, column.unit,
                              limits->low / column.factor, limits->high / column.factor,
                              column.unit));
  }
  return value;
}

}  // namespace rimload
