// What to look at before a dressing is taken.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "choice/choice_rule.hpp"
#include "fit/dressed.hpp"

namespace rimload {

enum class DressingWarning {
  stacking,   ///< two pieces lie on each other
  bulk,       ///< thick under a mask
  stiffness,  ///< far from that of the tissue beneath
  edge,       ///< the rim presses hard on the dressing's edge
  near_eye,
  near_nostril,
  near_mouth,
  size  ///< no size sold serves the place
};
/// The name in files, such as `near_eye`.
[[nodiscard]] std::string_view name_of(DressingWarning warning);

struct DressingFlag {
  DressingWarning warning = DressingWarning::bulk;
  std::string text;  ///< a sentence with its numbers
};

/// Everything to be said of pieces on a face.
/// @param before the same mask and straps that just seal, without dressings
/// @param after with the pieces on, at straps that just seal
[[nodiscard]] std::vector<DressingFlag> dressing_flags(const Estimate& before,
                                                       const Estimate& after,
                                                       const ChoiceRule& rule);

}  // namespace rimload
