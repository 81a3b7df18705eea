// Comma-separated text, as spreadsheets write it.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "units/error.hpp"

namespace rimload {

struct CsvRow {
  std::size_t line = 1;             ///< of the text where it begins, from 1
  std::vector<std::string> fields;  ///< blanks around a field are taken off, quotes undone
};

struct CsvTable {
  char separator = ',';
  CsvRow header;
  std::vector<CsvRow> rows;  ///< without blank lines
};

/// Reads comma-separated text [RFC 4180], or with semicolons or tabs; lines end as on any system; a
/// byte order mark is skipped. A quote counts at the beginning of a field only.
///
/// Faults, each with its line: text in UTF-16 or not in UTF-8; a quote never closed or followed by
/// something; a row with more or fewer fields than the header; no header; more than 5000 rows; a
/// header from which the separator can't be told. Rows at fault are left out.
///
/// No library is used: those that Debian has either fix the number of columns when compiled or
/// report neither line nor reason, and a page would have to bring them along.
/// @param separator `,`, `;` or a tab; nothing: the one that the header holds
[[nodiscard]] CsvTable read_csv(std::string_view text, const std::string& file,
                                std::optional<char> separator, std::vector<Fault>& faults);

/// How a fault says where it is, such as `line 4`.
[[nodiscard]] std::string line_words(std::size_t line);

}  // namespace rimload
