#include <utility>
#include <vector>

#include "fit/bands.hpp"
#include "fit/fit.hpp"
#include "fit/parts.hpp"
#include "fit/skin_tolerance.hpp"
#include "fit/strap_setting.hpp"
#include "fit/swelling.hpp"
#include "job/commands.hpp"
#include "report/finding.hpp"
#include "report/heat_map.hpp"
#include "report/png.hpp"
#include "report/result_json.hpp"
#include "report/samples_csv.hpp"
#include "report/scene_of_estimate.hpp"

namespace rimload {

JobOutput run_fit(const FitRequest& request, const ReadFile& read_file, const Progress& progress) {
  const Case input = read_case(read_file(request.case_file), request.case_file, read_file);
  const Estimate fitted = estimate_fit(input);
  Estimate estimate = fitted;
  // What is only told in words is worked out beside the pictures; a scene looks into its estimate.
  const Scene scene = request.pictures ? scene_of(fitted) : Scene{};
  const std::vector<std::pair<const char*, View>> views{
      {"front.png", View::front}, {"left.png", View::left}, {"right.png", View::right}};
  std::vector<NamedBytes> pictures(request.pictures ? views.size() : 0);
  run_parts(static_cast<int>(pictures.size()) + 1, n_threads_here(), [&](int part) {
    if (part == 0) {
      estimate = with_strap_note(with_swelling(with_muscle_stress(std::move(estimate))));
      return;
    }
    const auto k = static_cast<std::size_t>(part - 1);
    const auto& [name, view] = views[k];
    pictures[k] = {name, png_bytes(draw_heat_map(scene, view, {}))};
  });
  if (request.band_draws > 0) {
    estimate = with_bands(std::move(estimate), {.n_draws = request.band_draws,
                                                .seed = request.seed,
                                                .n_threads = n_threads_here(),
                                                .progress = progress});
  }
  JobOutput out;
  out.printed = finding(estimate);
  out.files.push_back({"result.json", result_json(estimate)});
  if (request.samples) out.files.push_back({"samples.csv", samples_csv(estimate)});
  for (NamedBytes& picture : pictures) out.files.push_back(std::move(picture));
  return out;
}

}  // namespace rimload
