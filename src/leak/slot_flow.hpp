// Flow of breathing gas through a narrow slot.
#pragma once

#include <span>

namespace rimload {

/// Density and viscosity inside: N s2/mm4 and N s/mm2 (1 kg/m3 = 1e-12, 1 Pa s = 1e-6).
struct Gas {
  double density = 1.12e-12;
  double viscosity = 1.88e-11;
};

/// Warm gas saturated with water at ambient pressure, ideal; viscosity mixed linearly by oxygen.
/// @param oxygen_fraction of the dry gas, 0.21 to 1
[[nodiscard]] Gas humid_gas(double oxygen_fraction);

/// A stretch of the path that gas takes across the lip.
struct SlotPart {
  double gap_mm = 0;
  double length_mm = 0;  ///< along the flow
};

/// Flow per unit width of slot [mm2/s] through parts in series under a pressure difference:
/// P = sum(12 mu length/gap^3) q + zeta rho q^2/(2 g^2), g the smallest gap: plane Poiseuille flow
/// [White 2011, section 6.6] with entry and exit losses.
/// @param pressure [N/mm2], 0 or more; @param loss zeta
/// @return 0 when any gap is 0 or less
[[nodiscard]] double slot_flow(std::span<const SlotPart> parts, double pressure, const Gas& gas,
                               double loss);

}  // namespace rimload
