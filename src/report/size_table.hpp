// The ranking of cushions as a table and in words.
#pragma once

#include <string>

#include "choice/rotation.hpp"
#include "choice/size_choice.hpp"

namespace rimload {

/// `sizes.csv`: a row a cushion in the order of the ranking: rank, name, size, type, why it is left
/// out; as the inputs are taken strap window [N], worst reading [mmHg] and where, leak [L/min],
/// number of places that need a dressing, what it comes too near to; over the draws the share that
/// seals and bands of worst reading, leak and just-sealed tension; what is assumed of the cushion.
[[nodiscard]] std::string size_csv(const SizeChoice& choice);

/// The ranking in at most 25 lines, with the rule, what to try when none fits, and which to wear in
/// turn.
/// @param rotation `rotation_pairs(choice)`
[[nodiscard]] std::string size_finding(const SizeChoice& choice,
                                       const std::vector<RotationPair>& rotation);

}  // namespace rimload
