#include "fit/fit.hpp"
#include "job/commands.hpp"
#include "report/seen_table.hpp"
#include "units/error.hpp"

namespace rimload {

JobOutput run_seen(const SeenRequest& request, const ReadFile& read_file,
                   const Progress& progress) {
  const Case input = read_case(read_file(request.case_file), request.case_file, read_file);
  if (input.seen.empty()) {
    throw InputError(request.case_file, "/seen",
                     "missing; needed: what was seen, such as [{\"leak_L_min\": 12}]");
  }
  const Estimate estimate = estimate_fit(input);
  const auto draws =
      foresee(estimate, uncertain_draws(request.n_draws, request.seed), n_threads_here(), progress);
  const SeenUpdate seen = update(input, draws);
  JobOutput out;
  out.printed = seen_finding({estimate, seen});
  out.files.push_back({"seen.csv", seen_csv({estimate, seen})});
  return out;
}

}  // namespace rimload
