// A catalogue as a file.
#pragma once

#include <string>

#include "case/catalogue.hpp"

namespace rimload {

/// The text of a catalogue file, lengths rounded to 1e-4 mm. Cushions of one name that stand
/// together are one entry with several sizes; what lip, anchors, pad and masses are is given with
/// each size, the rest is the first one's.
[[nodiscard]] std::string write_catalogue(const Catalogue& catalogue);

}  // namespace rimload
