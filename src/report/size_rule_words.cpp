#include "report/size_rule_words.hpp"

#include <fmt/format.h>

#include <vector>

namespace rimload {

std::string_view words_for(SizeMeasure measure) {
  switch (measure) {
    case SizeMeasure::leak: return "the least leak, of equal ones the least worst reading";
    case SizeMeasure::window:
      return "the widest strap window, of equal ones the least worst reading";
    case SizeMeasure::worst_reading: break;
  }
  return "the least worst reading";
}

std::string rule_words(const SizeRule& rule, double leak_limit_l_min) {
  const char* tie =
      rule.rank_by == SizeMeasure::window ? "as wide, and readings reversed" : "reversed";
  return fmt::format(
      "the lip seals in {:.4g} % of the draws, leak is within {:g} L/min, it keeps clear of eyes, "
      "nostrils, lips and chin; then {}, straps {:g} mm past just sealed. A shared rank is a tie: "
      "{} in {:.4g} % of the draws.",
      100 * rule.seals_in_share.value, leak_limit_l_min, words_for(rule.rank_by),
      rule.strap_step_mm.value, tie, 100 * rule.tie_share.value);
}

std::string rule_source_words(const SizeRule& rule) {
  std::vector<std::string_view> set;
  if (rule.rank_by_case) set.emplace_back("rank_by");
  if (rule.strap_step_mm.by_case) set.emplace_back("strap_step_mm");
  if (rule.seals_in_share.by_case) set.emplace_back("seals_in_share");
  if (rule.tie_share.by_case) set.emplace_back("tie_share");
  constexpr std::size_t all = 4;
  if (set.empty()) return "A convention; 'sizes' changes it.";
  if (set.size() == all) return "Set by the case.";
  return fmt::format("Set by the case: {}; the rest is a convention.", fmt::join(set, ", "));
}

}  // namespace rimload
