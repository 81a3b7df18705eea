// The rule by which cushions are ranked.
#pragma once

#include "case/case.hpp"

namespace rimload {

/// A number of the rule, and who set it.
struct RuleNumber {
  double value = 0;
  bool by_case = false;  ///< else a convention of this project
};

/// By what cushions are ranked. What the case leaves open is a convention of this project, from
/// `data/size-choice.json`.
struct SizeRule {
  SizeMeasure rank_by = SizeMeasure::worst_reading;
  bool rank_by_case = false;  ///< the case set `rank_by`
  RuleNumber strap_step_mm;   ///< every strap is taken so much shorter than just sealed
  RuleNumber seals_in_share;  ///< of the draws, to count as sealing
  RuleNumber tie_share;       ///< a tie: in this share of the draws or more the order is reversed
  double leak_alike = 0;      ///< leaks are told apart in steps of this [mm3/s]
  double window_alike_n = 0;  ///< and widths of strap windows in steps of this
};

/// The usual rule with what the case asks put in.
[[nodiscard]] SizeRule size_rule_for(const SizeRequest& asked);

}  // namespace rimload
