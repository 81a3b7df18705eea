// The safety gate: what must be settled before a mask goes on, whatever an estimate says.
#pragma once

#include <vector>

#include "fit/estimate.hpp"

namespace rimload {

/// The cautions of a case, in the order in which they are to be read: what needs an answer before
/// the mask goes on, then questions that were not answered ("not checked"), then the standing
/// lines. A question answered no gives none.
///
/// Asked of every case: vomiting, airway, mental state, face injury or surgery, taking the mask
/// off, skin. Asked when the mask calls for it: the circuit of a mask without vent (rebreathing),
/// implants near magnets. Common practice, no source; words in `src/fit/data/cautions.json`.
[[nodiscard]] std::vector<Caution> cautions_for(const Case& input);

/// How a caution names a place of skin, such as `cheek (left)`.
[[nodiscard]] std::string place_words(const SidedSite& place);

}  // namespace rimload
