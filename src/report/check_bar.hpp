// The bar by which a printed page is checked for true size.
#pragma once

#include <string>

#include "report/vector_page.hpp"

namespace rimload {

/// Its length [mm].
inline constexpr double check_bar_mm = 50;

/// Draws it with its numbers.
/// @param left end of its lower edge [mm]; the numbers reach 7 mm above
void draw_check_bar(VectorPage& page, const Vec2& left);

/// How to print the page and measure the bar, in words.
[[nodiscard]] std::string print_words();

}  // namespace rimload
