#include "skin/tolerance_table.hpp"

#include <algorithm>

#include "units/error.hpp"

namespace rimload {

SiteTolerance tolerance_of(const SiteQuestion& question, const WearPlan& plan) {
  SiteTolerance row{.place = question.place,
                    .load = load_on_skin(question, plan),
                    .curves = curve_readings(question, plan),
                    .concern = {},
                    .plan = {}};
  row.concern = concern_of(question, plan, row.curves);
  row.plan = check_plan(question, plan, row.curves);
  return row;
}

std::vector<SiteTolerance> tolerance_table(std::span<const SiteQuestion> questions,
                                           const WearPlan& plan) {
  std::vector<SiteTolerance> rows;
  rows.reserve(questions.size());
  for (const SiteQuestion& question : questions) rows.push_back(tolerance_of(question, plan));
  return rows;
}

const SiteTolerance& most_urgent(std::span<const SiteTolerance> rows) {
  if (rows.empty()) throw InternalError("tolerance: no row to choose from");
  return *std::min_element(rows.begin(), rows.end(),
                           [](const SiteTolerance& a, const SiteTolerance& b) {
                             if (a.plan.act != b.plan.act) return a.plan.act > b.plan.act;
                             return a.plan.next_h.value_or(0) < b.plan.next_h.value_or(0);
                           });
}

}  // namespace rimload
