
#include "choice/size_choice.hpp"
#include "job/commands.hpp"
#include "report/png.hpp"
#include "report/rotation_table.hpp"
#include "report/size_chart.hpp"
#include "report/size_table.hpp"

namespace rimload {

JobOutput run_sizes(const SizesRequest& request, const ReadFile& read_file,
                    const Progress& progress) {
  const Case input = read_case(read_file(request.case_file), request.case_file, read_file);
  const SizeChoice choice = choose_size(input, {.n_draws = request.n_draws,
                                                .seed = request.seed,
                                                .n_threads = n_threads_here(),
                                                .progress = progress});
  JobOutput out;
  const std::vector<RotationPair> rotation = rotation_pairs(choice);
  out.printed = size_finding(choice, rotation);
  out.files.push_back({"sizes.csv", size_csv(choice)});
  out.files.push_back({"rotation.csv", rotation_csv(choice, rotation)});
  out.files.push_back({"sizes.png", png_bytes(draw_size_chart(choice))});
  return out;
}

}  // namespace rimload
