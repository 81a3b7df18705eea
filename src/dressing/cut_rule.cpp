#include "dressing/cut_rule.hpp"

#include <nlohmann/json.hpp>

#include "dressing_data.hpp"

namespace rimload {

CutRule usual_cut_rule() {
  static const nlohmann::json file = nlohmann::json::parse(data::cut_template_json());
  const auto number = [](const char* key) { return file.at(key).at("value").get<double>(); };
  return {.stretch_limit = number("stretch_limit"),
          .share_left_out = number("share_left_out"),
          .corner_radius_mm = number("corner_radius"),
          .most_cuts = static_cast<int>(number("most_cuts")),
          .deep_cut_share = number("deep_cut_share"),
          .cuts_apart_mm = number("cuts_apart"),
          .least_gain = number("least_gain"),
          .between_pieces_mm = number("between_pieces"),
          .sheet_margin_mm = number("sheet_margin")};
}

}  // namespace rimload
