#include "leak/seal_law.hpp"

#include <nlohmann/json.hpp>

#include "contact/told_apart.hpp"
#include "leak_data.hpp"
#include "material/tissue_law.hpp"
#include "units/units.hpp"

namespace rimload {

const SealLaw& seal_law() {
  static const SealLaw law = [] {
    const auto json = nlohmann::json::parse(data::seal_json());
    const auto value = [&](const char* key) { return json.at(key).at("value").get<double>(); };
    SealLaw out;
    out.open_below = units::from_cmh2o(value("open_below_cmH2O"));
    out.sealed_above = units::from_cmh2o(value("sealed_above_cmH2O"));
    out.slot_loss = value("slot_loss");
    out.gas_temperature_c = value("gas_temperature_C");
    out.saturated_vapour_pa = 1000 * value("saturated_vapour_kPa");
    out.viscosity_air_pa_s = value("viscosity_air_Pa_s");
    out.viscosity_oxygen_pa_s = value("viscosity_oxygen_Pa_s");
    return out;
  }();
  return law;
}

double openness(double margin, const SealLaw& law) {
  // A mask set to just seal, balanced once more from another side, may miss by rounding.
  if (margin >= law.sealed_above - told_apart) return 0;
  return smooth_switch((law.sealed_above - margin) / (law.sealed_above - law.open_below)).value;
}

}  // namespace rimload
