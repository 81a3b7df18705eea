#include "fit/breath.hpp"

namespace rimload {

std::string_view name_of(Phase phase) {
  switch (phase) {
    case Phase::expiratory: return "expiratory";
    case Phase::inspiratory: return "inspiratory";
    case Phase::continuous: break;
  }
  return "continuous";
}

std::vector<PhaseOfBreath> phases_of(const Settings& settings) {
  if (!settings.bilevel) return {{Phase::continuous, settings.expiratory, 1}};
  const double in = settings.inspiratory_fraction;
  return {{Phase::expiratory, settings.expiratory, 1 - in},
          {Phase::inspiratory, settings.inspiratory, in}};
}

}  // namespace rimload
