#include "choice/size_rule.hpp"

#include <nlohmann/json.hpp>

#include "choice_data.hpp"
#include "units/units.hpp"

namespace rimload {

SizeRule size_rule_for(const SizeRequest& asked) {
  static const auto table = nlohmann::json::parse(data::size_choice_json());
  const auto usual = [&](const char* key) { return table.at(key).at("value").get<double>(); };
  const auto number = [&](const std::optional<double>& set, const char* key) {
    return RuleNumber{set.value_or(usual(key)), set.has_value()};
  };
  return {.rank_by = asked.rank_by.value_or(SizeMeasure::worst_reading),
          .rank_by_case = asked.rank_by.has_value(),
          .strap_step_mm = number(asked.strap_step_mm, "strap_step_mm"),
          .seals_in_share = number(asked.seals_in_share, "seals_in_share"),
          .tie_share = number(asked.tie_share, "tie_share"),
          .leak_alike = units::from_l_per_min(usual("leak_alike_L_min")),
          .window_alike_n = usual("window_alike_N")};
}

}  // namespace rimload
