#include "report/heat_map.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "report/palette.hpp"
#include "report/stroke.hpp"

namespace rimload {

namespace {

// All in units, of which the page is 1400 wide.
constexpr double page_width = 1400;
constexpr double margin = 60;

std::string words_for(View view) {
  switch (view) {
    case View::left: return "Wearer\u2019s left side";
    case View::right: return "Wearer\u2019s right side";
    case View::front: break;
  }
  return "From the front";
}

// Lays lines below each other; returns the baseline of the next.
double add_lines(std::vector<TextItem>& texts, const std::vector<std::string>& lines,
                 const TextStyle& style, Vec2 pen) {
  for (const std::string& line : lines) {
    texts.push_back({line, style, pen});
    pen.y() += Font::of(style.weight).line_height(style.size_px);
  }
  return pen.y();
}

}  // namespace

HeatMapLayout layout_heat_map(const Scene& scene, View view, HeatMapOptions options) {
  assert(options.width_px >= 700);
  const double unit = options.width_px / page_width;
  const TextStyle title{46 * unit, Weight::semibold, palette::ink};
  const TextStyle subtitle{27 * unit, Weight::regular, palette::soft_ink};
  const TextStyle sign{27 * unit, Weight::semibold, palette::paper};
  const TextStyle warning{24 * unit, Weight::semibold, palette::alarm};
  const TextStyle caution{24 * unit, Weight::regular, palette::ink};
  const double left = margin * unit;
  const double right = options.width_px - left;
  HeatMapLayout page;
  page.width_px = options.width_px;
  page.unit_px = unit;

  const std::string view_words = words_for(view);
  const double sign_width = text_width(view_words, sign) + 44 * unit;
  page.view_sign = {right - sign_width, 52 * unit, right, 104 * unit};
  page.texts.push_back({view_words, sign, {page.view_sign.left + 22 * unit, 87 * unit}});
  double y =
      add_lines(page.texts, wrapped(scene.title, title, page.view_sign.left - left - 40 * unit, 2),
                title, {left, 96 * unit});
  y = add_lines(page.texts, wrapped(scene.subtitle, subtitle, right - left, 3), subtitle,
                {left, std::max(y, 150 * unit) - 10 * unit});

  const double top = y + 8 * unit;
  page.figure =
      layout_figure(scene, view, {left, top, right, top + figure_height(unit)}, {.unit_px = unit});
  page.legend = layout_legend(scene, {left, top + figure_height(unit) + 26 * unit, right, 0},
                              page.figure.camera.px_per_mm, unit);
  y = page.legend.bottom_px + 34 * unit;
  std::vector<std::pair<std::string, std::string>> paragraphs;
  for (const std::string& stop : scene.stops) paragraphs.emplace_back("Stop", stop);
  if (!scene.caution.empty()) paragraphs.emplace_back("Caution", scene.caution);
  if (!paragraphs.empty()) {
    page.rule_px = y;
    y += 44 * unit;
  }
  const double indent = text_width("Caution", warning) + 18 * unit;
  for (const auto& [word, words] : paragraphs) {
    page.texts.push_back({word, warning, {left, y}});
    y = add_lines(page.texts, wrapped(words, caution, right - left - indent, 5), caution,
                  {left + indent, y}) +
        8 * unit;
  }
  page.height_px = static_cast<int>(std::ceil(y + 14 * unit));
  return page;
}

Image draw_heat_map(const Scene& scene, View view, HeatMapOptions options) {
  const HeatMapLayout page = layout_heat_map(scene, view, options);
  const ColourScale scale(scene.scale_max_mmhg);
  Image image(page.width_px, page.height_px, palette::paper);
  draw_figure(image, page.figure, scene, scale, page.unit_px);
  draw_legend(image, page.legend, scale, page.unit_px);
  fill_box(image, page.view_sign, palette::ink, 10 * page.unit_px);
  const double left = margin * page.unit_px;
  if (page.rule_px > 0) {
    draw_stroke(image, {Vec3(left, page.rule_px, 0), Vec3(page.width_px - left, page.rule_px, 0)},
                {.width_px = 2 * page.unit_px, .colour = palette::hairline});
  }
  for (const TextItem& text : page.texts) draw_text(image, text);
  return image;
}

}  // namespace rimload
