// Leak through an open mouth under a nasal mask.
#pragma once

#include "leak/slot_flow.hpp"

namespace rimload {

enum class MouthOpening { closed, open_at_rest, mouth_breather };

/// The nose's resistance and the lips' opening in series, from `data/mouth.json`.
struct MouthPath {
  double resistance_n_s_mm5 = 0;  ///< pressure per flow of the nose
  double area_mm2 = 0;            ///< of the opening
  double discharge = 0.6;
};
[[nodiscard]] MouthPath mouth_path(MouthOpening opening);

/// Flow [mm3/s]: P = R Q + rho/2 (Q/(Cd A))^2 [orifice: White 2011, section 6.12].
/// @param pressure [N/mm2], 0 or more
/// @return 0 for a closed mouth
[[nodiscard]] double mouth_flow(const MouthPath& path, double pressure, const Gas& gas);

}  // namespace rimload
