// The numbers behind seal and leak, from `data/seal.json`.
#pragma once

namespace rimload {

struct SealLaw {
  double open_below = 0;    ///< margin under which a station is open [N/mm2]
  double sealed_above = 0;  ///< margin over which it is sealed [N/mm2]
  double slot_loss = 0;     ///< zeta of entry and exit
  double gas_temperature_c = 0;
  double saturated_vapour_pa = 0;
  double viscosity_air_pa_s = 0;
  double viscosity_oxygen_pa_s = 0;
};

/// As published; see the file for sources.
[[nodiscard]] const SealLaw& seal_law();

/// 1 where the margin is below `open_below`, 0 above `sealed_above`, smooth between.
[[nodiscard]] double openness(double margin, const SealLaw& law);

}  // namespace rimload
