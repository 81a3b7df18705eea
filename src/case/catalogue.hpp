// A catalogue file: cushions with their masks, headgear and sizes.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "case/cushion.hpp"

namespace rimload {

struct Catalogue {
  std::string about;              ///< where its numbers come from
  std::vector<Cushion> cushions;  ///< every size of every cushion, in the order of the file
};

/// Reads a catalogue, format `src/case/schema/catalogue.schema.json`.
///
/// Beyond the schema: names are unique; the rim starts at the origin, ends on the midline and
/// goes round the wearer's left in order; it nowhere bends so sharply that the lip's inner edge
/// would fold; a bottomed lip is no softer than before.
/// @param file its name, for messages
/// @throws InputError with every fault found
[[nodiscard]] Catalogue read_catalogue(std::string_view text, const std::string& file);

}  // namespace rimload
