// The cells of a supplier's table, read by a column map.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "case/column_map.hpp"
#include "case/csv_table.hpp"

namespace rimload {

struct Limits {
  double low = 0;
  double high = 0;
};

/// Reads cells; what is at fault is noted with line and column and read as absent.
class TableCells {
 public:
  TableCells(const CsvTable& table, const ColumnMap& map, const std::string& file,
             std::vector<Fault>& faults)
      : table_(table), map_(map), file_(file), faults_(faults) {}

  /// Empty when the cell is.
  [[nodiscard]] std::string text(const CsvRow& row, const std::string& column) const;
  /// The text, which may not be empty.
  std::optional<std::string> needed_text(const CsvRow& row, const std::string& column);
  /// The meaning of the cell's word, which may not be empty.
  std::optional<CushionType> meaning(const CsvRow& row, const WordColumn<CushionType>& column);
  std::optional<bool> meaning(const CsvRow& row, const WordColumn<bool>& column);
  /// A number above 0, in the unit inside the program; nothing when the cell is empty or at fault.
  /// @param limits in that unit; nothing: none
  std::optional<double> number(const CsvRow& row, const NumberColumn& column,
                               const std::optional<Limits>& limits = {});

  void fault(const CsvRow& row, const std::string& column, std::string message);

 private:
  template <typename Meaning>
  std::optional<Meaning> meaning_of(const CsvRow& row, const WordColumn<Meaning>& column);

  const CsvTable& table_;
  const ColumnMap& map_;
  const std::string& file_;
  std::vector<Fault>& faults_;
};

}  // namespace rimload
