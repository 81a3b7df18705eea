#include "choice/size_choice.hpp"

namespace rimload {

std::vector<std::string> reasons_against(const Case& input, const Cushion& cushion) {
  const SafetyAnswers& safety = input.safety;
  std::vector<std::string> out;
  if (cushion.type == CushionType::nasal) {
    if (input.mouth == MouthOpening::mouth_breather) {
      out.emplace_back("a mouth breather: a nasal mask loses the gas through the mouth");
    }
    if (safety.acute_failure == true) {
      out.emplace_back("acute failure: people breathe through the mouth, a nasal mask won't do");
    }
  } else if (safety.watched != true) {
    if (safety.cannot_remove_mask == true) {
      out.emplace_back(
          "the wearer can't take it off alone, and nobody is said to watch: no mask over the "
          "mouth");
    }
    if (safety.vomiting_likely == true) {
      out.emplace_back("may vomit, and nobody is said to watch: no mask over the mouth");
    }
  }
  if (!cushion.vented && input.circuit == Circuit::single_limb_passive) {
    out.emplace_back("no vent, on a passive single limb: breathed-out gas is breathed again");
  }
  if (cushion.vented &&
      (input.circuit == Circuit::dual_limb || input.circuit == Circuit::single_limb_active)) {
    out.emplace_back("a vent, on a circuit with a valve or limb for breathing out: gas is lost");
  }
  if (cushion.magnets && safety.implant_near_magnets == true) {
    out.emplace_back("magnets, near an implant or metal that they can affect");
  }
  return out;
}

}  // namespace rimload
