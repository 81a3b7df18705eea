#include "report/before_after.hpp"

#include <array>
#include <cmath>

#include "report/figure.hpp"
#include "report/legend.hpp"
#include "report/stroke.hpp"

namespace rimload {

namespace {
constexpr int width_px = 2000;
constexpr double margin_px = 50;
constexpr double gutter_px = 40;
constexpr double figure_width_px = (width_px - 2 * margin_px - gutter_px) / 2;
constexpr double unit_px = figure_width_px / 1280;  // a figure's own width in units
}  // namespace

Image draw_before_after(const Scene& before, const Scene& after) {
  const TextStyle title{40, Weight::semibold, palette::ink};
  const TextStyle heading{26, Weight::semibold, palette::ink};
  const TextStyle warning{20, Weight::semibold, palette::alarm};
  const TextStyle caution{20, Weight::regular, palette::ink};
  std::vector<TextItem> texts;
  const auto add = [&](const std::string& text, const TextStyle& style, Vec2 pen, double width) {
    for (const std::string& line : wrapped(text, style, width, 3)) {
      texts.push_back({line, style, pen});
      pen.y() += Font::of(style.weight).line_height(style.size_px);
    }
    return pen.y();
  };
  double y = add(before.title, title, {margin_px, 80}, width_px - 2 * margin_px) + 8;
  const std::array scenes{&before, &after};
  double top = y;
  for (std::size_t k = 0; k < scenes.size(); ++k) {
    const double left = margin_px + static_cast<double>(k) * (figure_width_px + gutter_px);
    top = std::max(top, add(scenes[k]->subtitle, heading, {left, y}, figure_width_px));
  }
  const double height = figure_height(unit_px);
  std::array<Figure, 2> figures;
  for (std::size_t k = 0; k < scenes.size(); ++k) {
    const double left = margin_px + static_cast<double>(k) * (figure_width_px + gutter_px);
    figures[k] =
        layout_figure(*scenes[k], View::front, {left, top, left + figure_width_px, top + height},
                      {.unit_px = unit_px});
  }
  // Signs of what either has.
  Scene both = after;
  both.jets.insert(both.jets.end(), before.jets.begin(), before.jets.end());
  both.stations.insert(both.stations.end(), before.stations.begin(), before.stations.end());
  const double legend_unit = 1.0;
  const Legend legend = layout_legend(both, {margin_px, top + height + 26, margin_px + 1280, 0},
                                      figures[0].camera.px_per_mm, legend_unit);
  y = legend.bottom_px + 60;
  std::vector<std::pair<std::string, std::string>> paragraphs;
  for (const std::string& stop : before.stops) paragraphs.emplace_back("Stop", stop);
  if (!before.caution.empty()) paragraphs.emplace_back("Caution", before.caution);
  const double indent = text_width("Caution", warning) + 16;
  for (const auto& [word, words] : paragraphs) {
    texts.push_back({word, warning, {margin_px, y}});
    y = add(words, caution, {margin_px + indent, y}, width_px - 2 * margin_px - indent);
  }
  Image image(width_px, static_cast<int>(std::ceil(y + 14)), palette::paper);
  const ColourScale scale(before.scale_max_mmhg);
  for (std::size_t k = 0; k < scenes.size(); ++k) {
    draw_figure(image, figures[k], *scenes[k], scale, unit_px);
  }
  draw_legend(image, legend, scale, legend_unit);
  const double middle = margin_px + figure_width_px + gutter_px / 2;
  draw_stroke(image, {Vec3(middle, top, 0), Vec3(middle, top + height, 0)},
              {.width_px = 1.5, .colour = palette::hairline});
  for (const TextItem& text : texts) draw_text(image, text);
  return image;
}

}  // namespace rimload
