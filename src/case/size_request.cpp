#include "case/size_request.hpp"

#include <array>

namespace rimload {

std::string_view name_of(SizeMeasure measure) {
  switch (measure) {
    case SizeMeasure::leak: return "leak";
    case SizeMeasure::window: return "window";
    case SizeMeasure::worst_reading: break;
  }
  return "worst_reading";
}

SizeRequest read_size_request(const JsonPlace& place) {
  constexpr std::array measures{SizeMeasure::worst_reading, SizeMeasure::leak, SizeMeasure::window};
  SizeRequest out;
  for (const SizeMeasure measure : measures) {
    if (place["rank_by"].text() == name_of(measure)) out.rank_by = measure;
  }
  out.strap_step_mm = place["strap_step_mm"].number();
  out.seals_in_share = place["seals_in_share"].number();
  out.tie_share = place["tie_share"].number();
  return out;
}

}  // namespace rimload
