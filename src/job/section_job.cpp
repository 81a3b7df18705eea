#include <fmt/format.h>

#include "fit/fit.hpp"
#include "fit/site_section.hpp"
#include "job/commands.hpp"
#include "report/png.hpp"
#include "report/section_drawing.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

std::string contact_site_names() {
  std::string out;
  for (const Site site : contact_sites) {
    if (site == Site::eyelid) continue;
    out += (out.empty() ? "" : ", ") + std::string(name_of(site));
  }
  return out;
}

}  // namespace

JobOutput run_section(const SectionRequest& request, const ReadFile& read_file) {
  const auto site = site_named(request.site);
  const bool pressed_by_rim =
      site && *site != Site::eyelid && *site != Site::tube && !is_strap_site(*site);
  if (!pressed_by_rim) {
    throw InputError("", "--site",
                     fmt::format("'{}' is no site that a rim presses; allowed: {}", request.site,
                                 contact_site_names()));
  }
  const Case input = read_case(read_file(request.case_file), request.case_file, read_file);
  const auto section = site_section(estimate_fit(input), *site, std::nullopt);
  JobOutput out;
  if (!section) {
    out.printed = fmt::format(
        "{}: the rim does not press the {} in any phase that seats: there is "
        "no slice to show.\n",
        input.name, words_for(*site));
    return out;
  }
  out.printed = section_finding(*section, input);
  out.files.push_back({"section.png", png_bytes(draw_section(*section, input))});
  out.files.push_back({"section.csv", section_csv(*section)});
  return out;
}

}  // namespace rimload
