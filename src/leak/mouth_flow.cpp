#include "leak/mouth_flow.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "leak_data.hpp"
#include "units/units.hpp"

namespace rimload {

MouthPath mouth_path(MouthOpening opening) {
  static const auto table = nlohmann::json::parse(data::mouth_json());
  const auto value = [](const char* key) { return table.at(key).at("value").get<double>(); };
  constexpr double mm3_per_litre = 1e6;
  MouthPath out;
  out.resistance_n_s_mm5 =
      units::from_cmh2o(value("nose_resistance_cmH2O_s_per_L")) / mm3_per_litre;
  out.discharge = value("discharge");
  if (opening == MouthOpening::open_at_rest) out.area_mm2 = value("open_at_rest_mm2");
  if (opening == MouthOpening::mouth_breather) out.area_mm2 = value("mouth_breather_mm2");
  return out;
}

double mouth_flow(const MouthPath& path, double pressure, const Gas& gas) {
  if (path.area_mm2 <= 0 || pressure <= 0) return 0;
  const double opening = path.discharge * path.area_mm2;
  const double inertial = gas.density / (2 * opening * opening);
  const double r = path.resistance_n_s_mm5;
  return 2 * pressure / (r + std::sqrt(r * r + 4 * inertial * pressure));
}

}  // namespace rimload
