// Tolerance of every site, under rim, pad, tube and straps alike.
#pragma once

#include <span>
#include <vector>

#include "skin/check_plan.hpp"
#include "skin/concern.hpp"
#include "skin/tolerance.hpp"

namespace rimload {

struct SiteTolerance {
  SidedSite place;
  LoadOnSkin load;                   ///< what the curves were asked with, before modifiers
  std::vector<CurveReading> curves;  ///< empty where the skin is injured
  ConcernFinding concern;
  CheckPlan plan;
};

/// One row.
/// @throws InternalError for a question or plan out of its ranges, naming value and unit
[[nodiscard]] SiteTolerance tolerance_of(const SiteQuestion& question, const WearPlan& plan);

/// One row a question, in their order.
[[nodiscard]] std::vector<SiteTolerance> tolerance_table(std::span<const SiteQuestion> questions,
                                                         const WearPlan& plan);

/// The row that sets when the mask comes off next: the one in most haste, then the one with the
/// soonest next check; the earlier of equals.
/// @param rows one or more
[[nodiscard]] const SiteTolerance& most_urgent(std::span<const SiteTolerance> rows);

}  // namespace rimload
