#include "report/check_bar.hpp"

#include <fmt/format.h>

#include <utility>

namespace rimload {

void draw_check_bar(VectorPage& page, const Vec2& left) {
  constexpr double thick_mm = 1.2;
  constexpr double tick_mm = 2.4;
  const auto bar = [&](double x, double width, double height) {
    page.marks.emplace_back(
        VectorPath{.points = {left + Vec2(x, -height), left + Vec2(x + width, -height),
                              left + Vec2(x + width, 0), left + Vec2(x, 0)},
                   .closed = true,
                   .width_mm = 0,
                   .fill = palette::ink});
  };
  constexpr double tick_width = 0.3;
  bar(0, check_bar_mm, thick_mm);
  for (int k = 0; k <= 5; ++k) {
    bar(k * (check_bar_mm - tick_width) / 5, tick_width, thick_mm + tick_mm);
  }
  for (const auto& [x, text] : {std::pair{0.0, "0"}, std::pair{check_bar_mm, "50 mm"}}) {
    VectorText number{text, 2.7, Weight::regular, palette::ink, {}, 0};
    number.pen = left + Vec2(x - (x == 0 ? 0.5 * number.width() : 2), -thick_mm - tick_mm - 0.8);
    page.marks.emplace_back(std::move(number));
  }
}

std::string print_words() {
  return fmt::format(
      "Print at 100 %, \u201cactual size\u201d, not \u201cfit to page\u201d. Then "
      "measure the bar: it must be {:g} mm long.",
      check_bar_mm);
}

}  // namespace rimload
