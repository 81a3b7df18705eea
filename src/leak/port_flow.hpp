// Leak of a cushion's sealed port around a feeding tube.
#pragma once

#include "leak/slot_flow.hpp"

namespace rimload {

/// The slot that the port's seal leaves around the tube, from `data/port.json`.
struct PortSeal {
  double clearance_mm = 0;
  double length_mm = 0;  ///< along the tube, above 0
};
[[nodiscard]] PortSeal port_seal();

/// Flow [mm3/s] through the slot around a tube, thin against the tube and so taken as plane.
/// @param diameter_mm of the tube, 0 or more
/// @param pressure [N/mm2], 0 or more
[[nodiscard]] double port_flow(const PortSeal& port, double diameter_mm, double pressure,
                               const Gas& gas);

}  // namespace rimload
