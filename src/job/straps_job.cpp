#include <fmt/format.h>

#include "case/mask_of_case.hpp"
#include "fit/strap_sweep.hpp"
#include "job/commands.hpp"
#include "report/png.hpp"
#include "report/strap_chart.hpp"
#include "report/strap_table.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

std::string window_words(const StrapWindow& window) {
  if (!window.seals) return fmt::format("no tension up to {:g} N seals", strap_tension_limit_n);
  if (window.upper_end == WindowEnd::tension_limit) {
    return fmt::format("seals from {:.1f} N, no upper edge up to {:g} N", window.sealing_n,
                       strap_tension_limit_n);
  }
  return fmt::format("{:.1f} to {:.1f} N", window.sealing_n, window.upper_n);
}

// The window with the catalogue's other sizes, and with less pressure.
std::vector<std::string> changes(const Case& input, const FaceInUse& face, const Mask& mask) {
  std::vector<std::string> out;
  std::string sizes;
  for (const Cushion& cushion : input.catalogue) {
    if (cushion.name != input.cushion.name || cushion.size == input.cushion.size) continue;
    Case other = input;
    other.cushion = cushion;
    const StrapWindow window = find_strap_window(other, face, make_mask(other));
    sizes +=
        fmt::format("{}size {} {}", sizes.empty() ? "" : "; ", cushion.size, window_words(window));
  }
  if (!sizes.empty()) out.push_back("Other sizes on this face: " + sizes + ".");
  const double less = units::from_cmh2o(2);
  const double least = units::from_cmh2o(3);
  Case gentler = input;
  double& pressure =
      input.settings.bilevel ? gentler.settings.inspiratory : gentler.settings.expiratory;
  if (pressure - less >= std::max(least, input.settings.bilevel ? input.settings.expiratory : 0)) {
    pressure -= less;
    if (!input.settings.bilevel) gentler.settings.inspiratory = pressure;
    out.push_back(
        fmt::format("With 2 cmH2O less{}: {}. Pressure is prescribed, not a strap setting.",
                    input.settings.bilevel ? " in inspiration" : "",
                    window_words(find_strap_window(gentler, face, mask))));
  }
  return out;
}

}  // namespace

JobOutput run_straps(const StrapsRequest& request, const ReadFile& read_file) {
  const Case input = read_case(read_file(request.case_file), request.case_file, read_file);
  const FaceInUse face(input.face);
  const Mask mask = make_mask(input);
  const StrapSweep sweep = sweep_straps(input, face, mask);
  const StrapReport report{input, mask, sweep, changes(input, face, mask)};
  JobOutput out;
  out.printed = strap_finding(report);
  out.files.push_back({"strap-window.png", png_bytes(draw_strap_chart(report))});
  out.files.push_back({"strap-window.csv", strap_csv(report)});
  return out;
}

}  // namespace rimload
