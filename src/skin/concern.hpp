// How much concern a site gives, in words and in order, never as a probability.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "skin/tolerance.hpp"

namespace rimload {

/// In rising order.
enum class Concern {
  low,     ///< no curve is reached in the hours planned, even at its cautious end
  raised,  ///< some curve is, at its cautious end; or nothing is known (children)
  high,    ///< some curve is, at its typical value
  injury   ///< skin is injured already
};
/// The word in files and print, such as `raised`.
[[nodiscard]] std::string_view name_of(Concern concern);

struct ConcernFinding {
  Concern level = Concern::low;
  std::vector<std::string> reasons;  ///< one or more, each a short sentence
};

/// The concern about a site, by what its curves say against the hours planned. Injury overrides
/// all; load on a lid is high whatever its size. The nail fold has no say.
/// @param readings `curve_readings(question, plan)`
[[nodiscard]] ConcernFinding concern_of(const SiteQuestion& question, const WearPlan& plan,
                                        std::span<const CurveReading> readings);

}  // namespace rimload
