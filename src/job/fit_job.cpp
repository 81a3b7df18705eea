#include <array>
#include <future>
#include <thread>

#include "fit/bands.hpp"
#include "fit/fit.hpp"
#include "fit/skin_tolerance.hpp"
#include "fit/swelling.hpp"
#include "job/commands.hpp"
#include "report/finding.hpp"
#include "report/heat_map.hpp"
#include "report/png.hpp"
#include "report/result_json.hpp"
#include "report/samples_csv.hpp"
#include "report/scene_of_estimate.hpp"

namespace rimload {

JobOutput run_fit(const FitRequest& request, const ReadFile& read_file) {
  const Case input = read_case(read_file(request.case_file), request.case_file, read_file);
  Estimate estimate = with_swelling(with_muscle_stress(estimate_fit(input)));
  if (request.band_draws > 0) {
    estimate = with_bands(std::move(estimate),
                          {.n_draws = request.band_draws,
                           .seed = request.seed,
                           .n_threads = static_cast<int>(std::thread::hardware_concurrency())});
  }
  JobOutput out;
  out.printed = finding(estimate);
  out.files.push_back({"result.json", result_json(estimate)});
  if (request.samples) out.files.push_back({"samples.csv", samples_csv(estimate)});
  if (request.pictures) {
    const Scene scene = scene_of(estimate);
    const auto draw = [&](View view) { return png_bytes(draw_heat_map(scene, view, {})); };
    // Pictures are independent of each other: drawn at once, in the same bits as one by one.
    std::array drawings{std::pair{"front.png", std::async(std::launch::async, draw, View::front)},
                        std::pair{"left.png", std::async(std::launch::async, draw, View::left)},
                        std::pair{"right.png", std::async(std::launch::async, draw, View::right)}};
    for (auto& [name, drawing] : drawings) out.files.push_back({name, drawing.get()});
  }
  return out;
}

}  // namespace rimload
