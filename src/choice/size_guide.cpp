#include "choice/size_guide.hpp"

#include <map>
#include <nlohmann/json.hpp>

#include "case/design_face.hpp"
#include "choice_data.hpp"
#include "geometry/rim_outline.hpp"

namespace rimload {

const std::vector<SizeGuideRule>& size_guide(CushionType type) {
  static const auto all = [] {
    std::map<CushionType, std::vector<SizeGuideRule>> out;
    const auto table = nlohmann::json::parse(data::size_guide_json());
    for (const CushionType each : {CushionType::nasal, CushionType::oronasal,
                                   CushionType::below_nose_oronasal, CushionType::total_face}) {
      for (const auto& row : table.at(name_of(each))) {
        out[each].push_back(
            {.measure = measure_named(row.at("measure").get<std::string>()).value(),
             .by = row.at("by") == "bottom_below" ? SizeRoom::bottom_below : SizeRoom::room_beside,
             .low_mm = row.at("low_mm").get<double>(),
             .high_mm = row.at("high_mm").get<double>()});
      }
    }
    return out;
  }();
  return all.at(type);
}

std::optional<MeasureRange> range_for(const SizeGuideRule& rule, const Cushion& cushion) {
  if (rule.by == SizeRoom::bottom_below) {
    const double bottom =
        cushion.apex_below_sellion_mm - RimOutline(cushion.rim, RimEdge::crown).bottom_mm();
    return MeasureRange{bottom - rule.high_mm, bottom - rule.low_mm};
  }
  const WidthLevel level =
      rule.measure == Measure::lip_length ? WidthLevel::mouth : WidthLevel::nose;
  const auto width = RimOutline(cushion.rim, RimEdge::inner)
                         .width_mm(level_mm(level, cushion, design_face_of(cushion)));
  if (!width || *width <= 2 * rule.high_mm) return std::nullopt;
  return MeasureRange{*width - 2 * rule.high_mm, *width - 2 * rule.low_mm};
}

}  // namespace rimload
