// The phases of a breath and how much of its time each takes.
#pragma once

#include <vector>

#include "fit/estimate.hpp"

namespace rimload {

struct PhaseOfBreath {
  Phase phase = Phase::continuous;
  double pressure = 0;  ///< of the gas [N/mm2]
  double share = 1;     ///< of the breath's time
};

/// Expiratory then inspiratory, or continuous alone.
[[nodiscard]] std::vector<PhaseOfBreath> phases_of(const Settings& settings);

}  // namespace rimload
