#include <fmt/format.h>

#include "fit/caution.hpp"
#include "report/finding_cautions.hpp"
#include "report/finding_lines.hpp"
#include "report/section_drawing.hpp"
#include "units/units.hpp"

namespace rimload {

std::string section_finding(const SiteSection& section, const Case& input) {
  const SectionAnswer& answer = section.answer;
  const auto percent = [](double strain) { return fmt::format("{:.0f} %", 100 * strain); };
  FindingLines out;
  out.add(FindingLines::always,
          fmt::format("{}: slice at the {}, {}: {:.2f} N on each mm of rim.", input.name,
                      place_words(section.place), name_of(section.phase), section.line_force_n_mm));
  out.add(1, fmt::format("Tissue {:.1f} mm deep, apparent E {:.0f} kPa (uncertain by a factor of "
                         "several), Poisson's ratio {:.2f}, on flat rigid bone.",
                         section.tissue.depth_mm, units::to_kpa(section.tissue.youngs_n_mm2),
                         section.tissue.poisson));
  out.add(1,
          fmt::format("Compressive strain at most {} in the skin and {} in the fat; shear {} and "
                      "{}.",
                      percent(answer.skin.compression), percent(answer.fat.compression),
                      percent(answer.skin.shear), percent(answer.fat.shear)));
  if (section.dressing.thickness_mm > 0) {
    out.add(1,
            fmt::format("A dressing {:.1f} mm thick lies on it, E {:.0f} kPa{}.",
                        section.dressing.thickness_mm, units::to_kpa(section.dressing.youngs_n_mm2),
                        pressed_through(answer)
                            ? "; the slice is linear and would press it through itself: take "
                              "the skin's and bone's values as levels only"
                            : ""));
  }
  out.add(1, fmt::format("Pressure at most {:.0f} mmHg on the skin and {:.0f} mmHg on the bone; "
                         "shear on the bone {:.1f} kPa.",
                         units::to_mmhg(answer.skin_pressure_peak),
                         units::to_mmhg(answer.bone_pressure_peak),
                         units::to_kpa(answer.bone_shear_peak)));
  if (answer.beyond_small_strain) {
    out.add(FindingLines::always,
            fmt::format("Beyond small strain: the slice is linear, and its strains are too large "
                        "here (the engine's own law is {} stiffer at the mean strain). Compare "
                        "slices, don't read them.",
                        percent(answer.stiffening_left_out)));
  }
  out.add(1,
          "How much strain facial skin bears is not known. The rim is not in the slice: it is "
          "loaded as the balance of the mask says.");
  out.add(FindingLines::always, standing_line());
  return out.text();
}

std::string section_csv(const SiteSection& section) {
  const SectionAnswer& answer = section.answer;
  std::string out = "from_mm,to_mm,rim_kPa,skin_kPa,bone_kPa,bone_shear_kPa\n";
  for (std::size_t k = 0; k + 1 < answer.columns_mm.size(); ++k) {
    out +=
        fmt::format("{},{},{},{},{},{}\n", answer.columns_mm[k], answer.columns_mm[k + 1],
                    units::to_kpa(answer.face_pressure[k]), units::to_kpa(answer.skin_pressure[k]),
                    units::to_kpa(answer.bone[k].pressure), units::to_kpa(answer.bone[k].shear));
  }
  return out;
}

}  // namespace rimload
