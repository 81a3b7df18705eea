// Which cushions to wear in turn, as a table and in words.
#pragma once

#include <string>
#include <vector>

#include "choice/rotation.hpp"
#include "report/finding_lines.hpp"

namespace rimload {

/// `rotation.csv`: a row a pair in the order of `rotation_pairs`: both cushions with their worst
/// readings and sites, the skin that each and that both load [mm2], its share of the smaller, where
/// they share most, and the sites under straps of both.
[[nodiscard]] std::string rotation_csv(const SizeChoice& choice,
                                       const std::vector<RotationPair>& pairs);

/// The best three pairs of other names, when to change, and what is not modelled.
void add_rotation(const SizeChoice& choice, const std::vector<RotationPair>& pairs,
                  FindingLines& out);

}  // namespace rimload
