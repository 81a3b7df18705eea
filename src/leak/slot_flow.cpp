#include "leak/slot_flow.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "leak/seal_law.hpp"

namespace rimload {

Gas humid_gas(double oxygen_fraction) {
  const SealLaw& law = seal_law();
  constexpr double ambient_pa = 101325;
  constexpr double gas_constant = 8.314462618;  // J/(mol K)
  constexpr double kelvin_at_0_celsius = 273.15;
  constexpr double nitrogen = 28.014e-3;  // kg/mol; the argon of air is counted with it
  constexpr double oxygen = 31.998e-3;
  constexpr double water = 18.015e-3;
  const double vapour = law.saturated_vapour_pa / ambient_pa;
  const double dry = oxygen_fraction * oxygen + (1 - oxygen_fraction) * nitrogen;
  const double molar_mass = vapour * water + (1 - vapour) * dry;
  const double kelvin = law.gas_temperature_c + kelvin_at_0_celsius;
  const double density = ambient_pa * molar_mass / (gas_constant * kelvin);
  constexpr double oxygen_of_air = 0.21;
  const double share =
      std::clamp((oxygen_fraction - oxygen_of_air) / (1 - oxygen_of_air), 0.0, 1.0);
  const double viscosity = (1 - share) * law.viscosity_air_pa_s + share * law.viscosity_oxygen_pa_s;
  return {density * 1e-12, viscosity * 1e-6};
}

double slot_flow(std::span<const SlotPart> parts, double pressure, const Gas& gas, double loss) {
  double viscous = 0;
  double least = std::numeric_limits<double>::infinity();
  for (const SlotPart& part : parts) {
    if (part.gap_mm <= 0) return 0;
    viscous += 12 * gas.viscosity * part.length_mm / (part.gap_mm * part.gap_mm * part.gap_mm);
    least = std::min(least, part.gap_mm);
  }
  if (parts.empty() || pressure <= 0) return 0;
  const double inertial = loss * gas.density / (2 * least * least);
  // The root of inertial q^2 + viscous q = P, in the form that stays exact when either is small.
  return 2 * pressure / (viscous + std::sqrt(viscous * viscous + 4 * inertial * pressure));
}

}  // namespace rimload
