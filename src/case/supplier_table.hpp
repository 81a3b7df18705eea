// Cushions from a supplier's table of dimensions.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "case/catalogue.hpp"

namespace rimload {

struct NamedText {
  std::string file;
  std::string_view text;
};

struct SupplierTable {
  NamedText table;    ///< CSV with a header, a row a size
  NamedText columns;  ///< format `src/case/schema/columns.schema.json`
  NamedText like;     ///< a catalogue that holds the typical cushions
};

struct ImportedCushions {
  Catalogue catalogue;                                       ///< sound
  std::vector<std::string> unused_columns;                   ///< headers that the map doesn't name
  std::map<CushionType, std::string> typical;                ///< name and size of each one used
  std::vector<std::pair<std::string, std::string>> renamed;  ///< the supplier's name, and ours
};

/// Reads the table and makes a cushion of each row: the typical cushion of its type scaled to its
/// dimensions (`scaled_to`). What has no column, or an empty cell, is the typical cushion's and is
/// listed in `Cushion::assumed`.
///
/// The typical cushion: of those of its type in `like`, or of that name where the map names one,
/// the middle one by perimeter of the rim (of two the smaller).
/// @throws InputError with every fault of the table, by line and column; those of the map and of
/// `like` come first
[[nodiscard]] ImportedCushions import_cushions(const SupplierTable& input);

}  // namespace rimload
