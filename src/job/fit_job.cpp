#include "fit/fit.hpp"
#include "job/commands.hpp"
#include "units/error.hpp"

namespace rimload {

JobOutput run_fit(const FitRequest& request, const ReadFile& read_file) {
  const Case input = read_case(read_file(request.case_file), request.case_file, read_file);
  const Estimate estimate = estimate_fit(input);
  throw InternalError("the report of a fit is not built yet");
}

}  // namespace rimload
