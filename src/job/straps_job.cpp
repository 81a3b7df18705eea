#include "case/mask_of_case.hpp"
#include "fit/fit.hpp"
#include "fit/strap_sweep.hpp"
#include "job/commands.hpp"
#include "job/strap_changes.hpp"
#include "report/png.hpp"
#include "report/strap_chart.hpp"
#include "report/strap_table.hpp"

namespace rimload {

JobOutput run_straps(const StrapsRequest& request, const ReadFile& read_file) {
  const Case input = read_case(read_file(request.case_file), request.case_file, read_file);
  const FaceInUse bare(input.face);
  const WornFace worn = face_as_worn(input, bare);
  const Mask mask = make_mask(input);
  const StrapSweep sweep = sweep_straps(input, worn.face, mask, {.n_threads = n_threads_here()});
  const StrapReport report{
      input, mask, sweep,
      strap_changes({.input = input, .bare = bare, .worn = worn, .mask = mask, .sweep = sweep}),
      worn.pieces};
  JobOutput out;
  out.printed = strap_finding(report);
  out.files.push_back({"strap-window.png", png_bytes(draw_strap_chart(report))});
  out.files.push_back({"strap-window.csv", strap_csv(report)});
  return out;
}

}  // namespace rimload
