// Reads data/tolerance-curves.json.
#include <map>
#include <nlohmann/json.hpp>

#include "skin/tolerance_curve.hpp"
#include "skin_data.hpp"
#include "units/error.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

using nlohmann::json;

const json& curve_file() {
  static const json file = json::parse(data::tolerance_curves_json());
  return file;
}

// What one of a unit is inside the program: N/mm2, h.
double unit_inside(const std::string& unit) {
  constexpr double minutes_per_hour = 60;
  if (unit == "mmHg" || unit == "mmHg h") return units::mmhg;
  if (unit == "kPa") return units::kpa;
  if (unit == "min") return 1 / minutes_per_hour;
  if (unit == "1/min") return minutes_per_hour;
  if (unit == "h" || unit == "1" || unit == "days") return 1;
  throw InternalError("tolerance-curves.json: unknown unit " + unit);
}

double inside(const json& number, const char* key = "value") {
  return number.at(key).get<double>() * unit_inside(number.at("unit").get<std::string>());
}

Ranged ranged(const json& number) {
  const Ranged out{inside(number, "low"), inside(number), inside(number, "high")};
  if (!(0 < out.low && out.low <= out.typical && out.typical <= out.high)) {
    throw InternalError("tolerance-curves.json: a range out of order at " +
                        number.at("source").get<std::string>());
  }
  return out;
}

MuscleLaw read_muscle(const json& place) {
  MuscleLaw law{.k = inside(place.at("k")),
                .a_per_h = inside(place.at("a")),
                .t0_h = inside(place.at("t0")),
                .c = inside(place.at("c")),
                .stress_factor = ranged(place.at("stress_range")),
                .sites = {}};
  for (const json& name : place.at("sites")) {
    const auto site = site_named(name.get<std::string>());
    if (!site || *site == Site::nasal_bridge) {
      throw InternalError("tolerance-curves.json: no muscle curve at " + name.get<std::string>());
    }
    law.sites.push_back(*site);
  }
  return law;
}

ToleranceLaws read_laws() {
  const json& file = curve_file();
  const json& product = file.at("pressure_time");
  const json& flow = file.at("blood_flow");
  const json& daily = file.at("daily_pressure");
  return {.pressure_time = {ranged(product.at("product")), inside(product.at("shortest")),
                            inside(product.at("longest"))},
          .blood_flow = {ranged(flow.at("stops_at")), inside(flow.at("stops_at_with_shear")),
                         inside(flow.at("that_shear"))},
          .daily_pressure = {ranged(daily.at("threshold")), inside(daily.at("hours_a_day")),
                             daily.at("least_days").at("value").get<int>()},
          .muscle = read_muscle(file.at("muscle")),
          .nail_fold = inside(file.at("nail_fold").at("arteriolar")),
          .peak_remark = inside(file.at("peak_remark")),
          .pressure_spread = inside(file.at("pressure_spread"))};
}

std::map<std::string, CurveRecord, std::less<>> read_records() {
  std::map<std::string, CurveRecord, std::less<>> records;
  for (const json& row : curve_file().at("curves")) {
    records[row.at("key").get<std::string>()] = {
        row.at("title"), row.at("measured_on"), row.at("says"), row.at("source"), row.at("status")};
  }
  return records;
}

}  // namespace

const ToleranceLaws& tolerance_laws() {
  static const ToleranceLaws laws = read_laws();
  return laws;
}

const CurveRecord& record_of(ToleranceCurve curve) {
  static const auto records = read_records();
  const auto found = records.find(name_of(curve));
  if (found == records.end()) {
    throw InternalError("tolerance-curves.json has no curve " + std::string(name_of(curve)));
  }
  return found->second;
}

std::span<const std::string> standing_lines() {
  static const auto lines = curve_file().at("standing").get<std::vector<std::string>>();
  return lines;
}

}  // namespace rimload
