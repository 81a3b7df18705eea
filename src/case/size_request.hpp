// What a case asks of the ranking of cushions.
#pragma once

#include <optional>
#include <string_view>

#include "case/json_place.hpp"

namespace rimload {

/// By what cushions that fit are ordered.
enum class SizeMeasure {
  worst_reading,  ///< lowest median over the draws of the worst sensor reading
  leak,           ///< lowest median leak of the breath
  window          ///< widest strap window
};
[[nodiscard]] std::string_view name_of(SizeMeasure measure);

/// What a case sets of the rule; the rest is the usual one's.
struct SizeRequest {
  std::optional<SizeMeasure> rank_by;
  std::optional<double> strap_step_mm;
  std::optional<double> seals_in_share;
  std::optional<double> tie_share;
};

/// Reads `/sizes`. Faults by the schema are found elsewhere.
[[nodiscard]] SizeRequest read_size_request(const JsonPlace& place);

}  // namespace rimload
