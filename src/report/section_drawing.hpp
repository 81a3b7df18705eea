// A slice through the tissue as a picture and in words.
#pragma once

#include <string>

#include "fit/site_section.hpp"
#include "report/image.hpp"

namespace rimload {

/// Whether the slice, which is linear, compresses its dressing by 90 % or more: its shape is then
/// not shown.
[[nodiscard]] bool pressed_through(const SectionAnswer& answer);

/// A page 1400 px wide: the slice as deformed, coloured by its largest compressive strain on a
/// fixed scale of 0 to 50 %, layers, bone and the pressure of the rim above it, and the worst
/// values of each layer.
[[nodiscard]] Image draw_section(const SiteSection& section, const Case& input);

/// The same in words, a line a fact.
[[nodiscard]] std::string section_finding(const SiteSection& section, const Case& input);

/// Pressure of the rim and of the skin, column by column, as CSV.
[[nodiscard]] std::string section_csv(const SiteSection& section);

}  // namespace rimload
