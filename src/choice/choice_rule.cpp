#include "choice/choice_rule.hpp"

#include <nlohmann/json.hpp>

#include "choice_data.hpp"

namespace rimload {

const ChoiceRule& usual_choice_rule() {
  static const ChoiceRule rule = [] {
    const auto table = nlohmann::json::parse(data::dressing_choice_json());
    const auto value = [&](const char* key) { return table.at(key).at("value").get<double>(); };
    return ChoiceRule{.helps_by = value("helps_by"),
                      .harm_by = value("harm_by"),
                      .alike_within = value("alike_within"),
                      .clear_of_mm = value("clear_of_mm"),
                      .bulky_mm = value("bulky_mm"),
                      .stiffness_ratio = value("stiffness_ratio"),
                      .edge_rise = value("edge_rise")};
  }();
  return rule;
}

}  // namespace rimload
