#include <array>
#include <future>

#include "fit/fit.hpp"
#include "job/commands.hpp"
#include "report/finding.hpp"
#include "report/result_json.hpp"
#include "report/samples_csv.hpp"
#include "report/scene_of_estimate.hpp"

namespace rimload {

JobOutput run_fit(const FitRequest& request, const ReadFile& read_file) {
  const Case input = read_case(read_file(request.case_file), request.case_file, read_file);
  const Estimate estimate = estimate_fit(input);
  JobOutput out;
  out.printed = finding(estimate);
  out.files.push_back({"result.json", result_json(estimate)});
  if (request.samples) out.files.push_back({"samples.csv", samples_csv(estimate)});
  return out;
}

}  // namespace rimload
