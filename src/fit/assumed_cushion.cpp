#include "fit/assumed_cushion.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>

#include "fit_data.hpp"

namespace rimload {

namespace {

struct AssumedRange {
  bool is_factor = false;
  double low = 0;
  double high = 0;
};

const AssumedRange& assumed_range(CushionField field) {
  static const std::map<CushionField, AssumedRange> all = [] {
    std::map<CushionField, AssumedRange> out;
    const auto table = nlohmann::json::parse(data::uncertainty_json()).at("assumed");
    for (const auto& [key, row] : table.items()) {
      if (const auto named = cushion_field_named(key)) {
        out[*named] = {row.at("kind") == "factor", row.at("low").get<double>(),
                       row.at("high").get<double>()};
      }
    }
    return out;
  }();
  return all.at(field);
}

}  // namespace

double assumed_value(CushionField field, double fraction) {
  const AssumedRange& range = assumed_range(field);
  if (!range.is_factor) return range.low + fraction * (range.high - range.low);
  return range.low * std::pow(range.high / range.low, fraction);
}

Cushion with_assumed(Cushion cushion, const AssumedFractions& fractions) {
  const auto value = [&](CushionField field, double as_it_is) {
    if (!cushion.is_assumed(field)) return as_it_is;
    const auto* found = std::find(drawn_fields.begin(), drawn_fields.end(), field);
    return assumed_value(field, fractions[static_cast<std::size_t>(found - drawn_fields.begin())]);
  };
  const Vec3 scale(value(CushionField::width, 1), value(CushionField::height, 1),
                   value(CushionField::rim_depth, 1));
  for (RimControl& control : cushion.rim.controls) {
    control.position_mask = control.position_mask.cwiseProduct(scale);
  }
  cushion.rim.section.lip_width_mm *= value(CushionField::lip_width, 1);
  cushion.lip.travel_mm *= value(CushionField::travel, 1);
  cushion.lip.gas_share =
      std::clamp(cushion.lip.gas_share + value(CushionField::gas_share, 0), 0.0, 1.0);
  cushion.apex_below_sellion_mm += value(CushionField::placement, 0);
  const Vec3 anchors_up(0, value(CushionField::straps, 0), 0);
  for (StrapPair& strap : cushion.straps) strap.anchor_mask += anchors_up;
  for (FrameLoad& mass : cushion.masses) mass.mass_kg *= value(CushionField::mass, 1);
  return cushion;
}

}  // namespace rimload
