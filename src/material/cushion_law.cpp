#include "material/cushion_law.hpp"

#include <cassert>

namespace rimload {

Response LipLaw::force_per_length(double u_mm, double width_mm, double stiffness_factor) const {
  assert(bottomed_stiffness_n_mm3 >= stiffness_n_mm3 && blend_mm > 0);
  const double scale = width_mm * stiffness_factor;
  Response out{stiffness_n_mm3 * u_mm, stiffness_n_mm3};
  const double extra = bottomed_stiffness_n_mm3 - stiffness_n_mm3;
  const double beyond = u_mm - travel_mm;
  if (beyond >= blend_mm) {
    out.value += extra * (beyond - blend_mm / 2);
    out.slope += extra;
  } else if (beyond > 0) {
    out.value += extra * beyond * beyond / (2 * blend_mm);
    out.slope += extra * beyond / blend_mm;
  }
  return {out.value * scale, out.slope * scale};
}

}  // namespace rimload
