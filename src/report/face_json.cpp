#include "report/face_json.hpp"

#include <algorithm>

namespace rimload {

nlohmann::ordered_json measurements_json(const Case& input) {
  using Json = nlohmann::ordered_json;
  if (!input.measured) return {};
  const MeasuredFace& measured = *input.measured;
  const auto& taken = measured.asked.taken;
  Json dimensions = Json::array();
  for (const MeasureBand& band : measured.bands) {
    const auto given = std::find_if(taken.begin(), taken.end(), [&](const FaceMeasurement& each) {
      return each.measure == band.measure;
    });
    dimensions.push_back({{"measure", name_of(band.measure)},
                          {"given_mm", given == taken.end() ? Json() : Json(given->value_mm)},
                          {"likeliest_mm", band.likeliest_mm},
                          {"low_mm", band.low_mm},
                          {"high_mm", band.high_mm}});
  }
  return {{"n", taken.size()},
          {"population", measured.population},
          {"dimensions", std::move(dimensions)},
          {"questions", measured.questions},
          {"remarks", measured.remarks}};
}

}  // namespace rimload
