#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <utility>

#include "choice/dressing_choice.hpp"
#include "dressing/join.hpp"
#include "dressing/template.hpp"
#include "job/commands.hpp"
#include "report/before_after.hpp"
#include "report/dressing_table.hpp"
#include "report/png.hpp"
#include "report/scene_of_estimate.hpp"
#include "report/template_pdf.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

Scene side_of(const Estimate& estimate, const std::string& what) {
  Scene out = scene_of(estimate);
  out.subtitle =
      fmt::format("{}: just sealed at {:.1f} N a strap", what, estimate.strap_tension_n.front());
  // Places that still need one are left out: here it is shown what is worn.
  out.patches.clear();
  std::map<std::string, std::vector<std::vector<Vec3>>> outlines;
  for (const WornPiece& piece : estimate.worn) {
    outlines[piece.dressing.name].push_back(piece.place.outline);
  }
  for (const auto& [name, pieces] : outlines) {
    std::string label = name;
    for (std::vector<Vec3>& border : joined(estimate.face.skin, pieces)) {
      out.patches.push_back({std::move(border), std::exchange(label, {})});
    }
  }
  return out;
}

// Templates of one dressing's pieces: a PDF, and an SVG a page. What no sheet holds is said.
void add_templates(const DressingChoice& choice, const Dressing& dressing, JobOutput& out) {
  const Estimate& estimate = *choice.after;
  const CutRule rule = usual_cut_rule();
  std::vector<TemplatePiece> pieces;
  for (const WornPiece& piece : estimate.worn) {
    if (piece.dressing.name != dressing.name) continue;
    pieces.push_back(make_template(estimate.face.skin, piece.place, rule));
  }
  if (pieces.empty() || dressing.sizes.empty()) return;
  const auto area = [](const DressingSize& size) { return size.length_mm * size.width_mm; };
  const DressingSize& sheet = *std::max_element(
      dressing.sizes.begin(), dressing.sizes.end(),
      [&](const DressingSize& a, const DressingSize& b) { return area(a) < area(b); });
  const TemplatePrint print{.title = estimate.input.name,
                            .note = choice.bare.input.dressings->about,
                            .material = dressing.name,
                            .sheet = {sheet.length_mm, sheet.width_mm},
                            .rule = rule};
  try {
    const std::string stem = "template-" + dressing.name;
#ifndef __EMSCRIPTEN__  // a browser prints the pages as they are
    out.files.push_back({stem + ".pdf", template_pdf(pieces, print)});
#endif
    const std::vector<std::string> pages = template_svgs(pieces, print);
    for (std::size_t k = 0; k < pages.size(); ++k) {
      out.files.push_back({fmt::format("{}-{}.svg", stem, k + 1), pages[k]});
    }
  } catch (const InputError& error) {
    out.printed += fmt::format("No template of {}: {}\n", dressing.name, error.what());
  }
}

}  // namespace

JobOutput run_dressing(const DressingRequest& request, const ReadFile& read_file,
                       const Progress& progress) {
  const Case input = read_case(read_file(request.case_file), request.case_file, read_file);
  if (!input.dressings) {
    throw InputError(request.case_file, "/dressings",
                     "missing; needed: an object with the path of a dressings file, such as "
                     "{\"catalogue\": \"../catalogue/demo-dressings.json\"}");
  }
  const DressingChoice choice = choose_dressings(input, n_threads_here(), progress);
  JobOutput out;
  out.printed = dressing_finding(choice);
  if (!choice.before) return out;
  out.files.push_back({"dressings.csv", dressing_csv(choice)});
  if (choice.after) {
    const Image picture =
        draw_before_after(side_of(*choice.before, "Bare"), side_of(*choice.after, "Dressed"));
    out.files.push_back({"before-after.png", png_bytes(picture)});
    for (const Dressing& dressing : input.dressings->dressings)
      add_templates(choice, dressing, out);
  }
  return out;
}

}  // namespace rimload
