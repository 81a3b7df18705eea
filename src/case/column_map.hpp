// Which column of a supplier's dimension table holds what.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "case/scaled_cushion.hpp"

namespace rimload {

/// A column of words with what each means, or one meaning for all rows.
template <typename Meaning>
struct WordColumn {
  std::string column;
  std::map<std::string, Meaning> means;
  std::optional<Meaning> always;
};

/// A column of numbers, brought to the unit inside the program by a factor.
struct NumberColumn {
  std::string column;
  std::string unit;
  double factor = 1;  ///< to mm, N/mm3 or kg
};
struct HeightColumn {
  NumberColumn number;
  RimEdge edge = RimEdge::inner;
};
struct WidthColumn {
  NumberColumn number;
  RimEdge edge = RimEdge::inner;
  std::variant<WidestPlace, WidthLevel> at;
};

struct ColumnMap {
  std::string about;
  std::optional<char> separator;
  std::optional<char> decimal_mark;  ///< nothing: not said, a point
  std::string name;
  std::string size;
  WordColumn<CushionType> type;
  WordColumn<bool> vented;
  WordColumn<bool> magnets;
  std::optional<WordColumn<bool>> anti_asphyxia_valve;
  std::optional<WordColumn<bool>> tube_port;
  std::optional<HeightColumn> height;
  std::vector<WidthColumn> widths;
  std::optional<NumberColumn> rim_depth;
  std::optional<NumberColumn> lip_width;
  std::optional<NumberColumn> stiffness;
  std::optional<NumberColumn> travel;
  std::optional<NumberColumn> mass;
  std::map<CushionType, std::string> typical;  ///< names of typical cushions

  /// The headers that it names, each once, with where it does so first (a JSON pointer).
  std::vector<std::pair<std::string, std::string>> headers;
};

/// Reads a column map, format `src/case/schema/columns.schema.json`.
///
/// Beyond the schema: a height or a width; words either with a column and what they mean, or
/// always; each length from a column of its own, each level once; separator and decimal mark
/// differ.
/// @throws InputError with every fault found
[[nodiscard]] ColumnMap read_column_map(std::string_view text, const std::string& file);

}  // namespace rimload
