#include "report/strap_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "report/chart_ink.hpp"
#include "report/legend.hpp"
#include "report/palette.hpp"
#include "report/strap_curves.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

constexpr int chart_width = 1400;
constexpr int page_height = 1380;
constexpr double chart_margin = 60;
constexpr double window_left = 150;
constexpr double window_right = 1090;
constexpr Rgb window_shade{222, 238, 228};
constexpr Rgb window_edge{0, 88, 60};
constexpr Rgb unseated_shade{232, 234, 238};
// Told apart by lightness as well as hue; every line is named at its end.
constexpr std::array line_colours{Rgb{20, 72, 140}, Rgb{186, 84, 0}, Rgb{118, 46, 122},
                                  Rgb{0, 112, 96}, Rgb{96, 104, 114}};
const TextStyle window_title{44, Weight::semibold, palette::ink};
const TextStyle window_heading{27, Weight::semibold, palette::ink};
const TextStyle window_body{24, Weight::regular, palette::soft_ink};
const TextStyle tick_text{22, Weight::regular, palette::soft_ink};

// A curve and how it is drawn.
struct Line {
  StrapCurve curve;
  Rgb colour = palette::ink;
  bool dashed = false;
};

// One pair of axes; values outside are cut off.
struct Panel {
  Box box;
  double x_min, x_max, y_max;

  [[nodiscard]] Vec2 at(const Vec2& p) const {
    return {box.left + (p.x() - x_min) / (x_max - x_min) * box.width(),
            box.bottom - p.y() / y_max * box.height()};
  }
};

void line(Image& image, Vec2 from, Vec2 to, double width, Rgb colour, bool dashed = false) {
  const StrokePath path{{from.x(), from.y(), 0}, {to.x(), to.y(), 0}};
  const Stroke stroke{.width_px = width, .colour = colour};
  if (dashed) {
    draw_strokes(image, dashes(path, 9, 7), stroke);
  } else {
    draw_stroke(image, path, stroke);
  }
}

// The parts of a stretch below the panel's top.
std::vector<StrokePath> visible(const Panel& panel, const std::vector<Vec2>& stretch) {
  std::vector<StrokePath> out;
  bool inside = false;
  for (std::size_t k = 0; k < stretch.size(); ++k) {
    const Vec2& p = stretch[k];
    const bool here = p.y() <= panel.y_max;
    if (k > 0 && here != inside) {
      const Vec2& q = stretch[k - 1];
      const double share = (panel.y_max - q.y()) / (p.y() - q.y());
      const Vec2 edge = panel.at(q + share * (p - q));
      if (here) out.emplace_back();
      out.back().emplace_back(edge.x(), edge.y(), 0);
    } else if (k == 0 && here) {
      out.emplace_back();
    }
    if (here) {
      const Vec2 at = panel.at(p);
      out.back().emplace_back(at.x(), at.y(), 0);
    }
    inside = here;
  }
  return out;
}

void draw_axes(Image& image, const Panel& panel, const std::string& what) {
  for (const double tick : round_ticks(panel.y_max, 5)) {
    const double y = panel.at({panel.x_min, tick}).y();
    line(image, {panel.box.left, y}, {panel.box.right, y}, 1, palette::hairline);
    put_right(image, fmt::format("{:g}", tick), tick_text, {panel.box.left - 14, y + 8});
  }
  put(image, what, window_heading, {chart_margin, panel.box.top - 22});
}

// Names at the right ends of curves, pushed apart where they would overlap.
void name_lines(Image& image, const Panel& panel, const std::vector<Line>& lines) {
  constexpr double apart = 30;
  struct Name {
    const Line* line;
    double y, wanted;
  };
  std::vector<Name> names;
  for (const Line& each : lines) {
    if (each.curve.stretches.empty()) continue;
    const double end = panel.at(each.curve.stretches.back().back()).y();
    const double y = std::max(end, panel.box.top + 6);
    names.push_back({&each, y, y});
  }
  std::stable_sort(names.begin(), names.end(),
                   [](const Name& a, const Name& b) { return a.y < b.y; });
  for (std::size_t k = 1; k < names.size(); ++k) {
    names[k].y = std::max(names[k].y, names[k - 1].y + apart);
  }
  const double over = names.empty() ? 0 : names.back().y - panel.box.bottom;
  for (Name& name : names) {
    if (over > 0) name.y -= over;
  }
  for (const Name& name : names) {
    line(image, {panel.box.right + 4, name.wanted}, {panel.box.right + 22, name.y}, 1.5,
         name.line->colour);
    put(image, name.line->curve.name, {23, Weight::semibold, name.line->colour},
        {panel.box.right + 28, name.y + 8});
  }
}

void draw_lines(Image& image, const Panel& panel, const std::vector<Line>& lines) {
  for (const Line& each : lines) {
    const Stroke stroke{.width_px = each.dashed ? 2.5 : 4, .colour = each.colour};
    for (const std::vector<Vec2>& stretch : each.curve.stretches) {
      for (const StrokePath& path : visible(panel, stretch)) {
        if (path.size() == 1) {
          draw_dot(image, path.front().head<2>(), stroke.width_px, stroke.colour);
        } else if (each.dashed) {
          draw_strokes(image, dashes(path, 12, 8), stroke);
        } else {
          draw_stroke(image, path, stroke);
        }
      }
    }
  }
  name_lines(image, panel, lines);
}

// As many curves as there are colours.
std::vector<Line> lines_of(std::vector<StrapCurve> curves) {
  std::vector<Line> out;
  for (std::size_t k = 0; k < std::min(curves.size(), line_colours.size()); ++k) {
    out.push_back({std::move(curves[k]), line_colours[k], false});
  }
  return out;
}

// Of two phases each is dashed beside the mean of the breath.
std::vector<Line> leak_lines(std::vector<StrapCurve> curves) {
  const bool phases = curves.size() > 1;
  std::vector<Line> out = lines_of(std::move(curves));
  if (!phases) return out;
  for (Line& each : out) each.dashed = true;
  out.back().dashed = false;
  out.back().colour = palette::ink;
  return out;
}

void shade_unseated(Image& image, const Panel& panel, const StrapReport& report) {
  for (const auto& [from, to] : unseated_ranges(report)) {
    const double left = panel.at({from, 0}).x();
    const double right = panel.at({to, 0}).x();
    fill_box(image, {left, panel.box.top, right, panel.box.bottom}, unseated_shade);
  }
}

void shade_window(Image& image, const Panel& panel, const StrapWindow& window) {
  if (!window.seals) return;
  const double left = panel.at({window.sealing_n, 0}).x();
  const double right = panel.at({std::min(window.upper_n, panel.x_max), 0}).x();
  if (has_window(window)) {
    fill_box(image, {left, panel.box.top, std::max(right, left + 2), panel.box.bottom},
             window_shade);
  }
  line(image, {left, panel.box.top}, {left, panel.box.bottom}, 2.5, window_edge);
  if (has_window(window) && window.upper_end != WindowEnd::tension_limit) {
    line(image, {right, panel.box.top}, {right, panel.box.bottom}, 2.5, window_edge, true);
  }
}

void draw_limit(Image& image, const Panel& panel, double value, const std::string& words) {
  const double y = panel.at({panel.x_min, value}).y();
  line(image, {panel.box.left, y}, {panel.box.right, y}, 2, palette::alarm, true);
  put(image, words, {21, Weight::regular, palette::alarm}, {panel.box.left + 8, y - 8});
}

void draw_tension_axis(Image& image, const StrapReport& report, const Panel& panel) {
  const double y = panel.box.bottom;
  line(image, {panel.box.left, y}, {panel.box.right, y}, 2, palette::soft_ink);
  const double mm_per_n = strap_travel_mm(report.mask, 1);
  for (const double tick : round_ticks(panel.x_max, 8)) {
    if (tick < panel.x_min) continue;
    const double x = panel.at({tick, 0}).x();
    line(image, {x, y}, {x, y + 8}, 2, palette::soft_ink);
    put_centred(image, fmt::format("{:g}", tick), tick_text, {x, y + 34});
  }
  put(image, "N a strap", tick_text, {panel.box.right + 28, y + 34});
  const double low = y + 52;
  line(image, {panel.box.left, low}, {panel.box.right, low}, 1.5, palette::hairline);
  for (const double tick : round_ticks(panel.x_max * mm_per_n, 8)) {
    if (tick < panel.x_min * mm_per_n) continue;
    const double x = panel.at({tick / mm_per_n, 0}).x();
    line(image, {x, low}, {x, low + 8}, 1.5, palette::soft_ink);
    put_centred(image, fmt::format("{:g}", tick), tick_text, {x, low + 34});
  }
  put(image, "mm of strap from slack", tick_text, {panel.box.right + 28, low + 34});
}

}  // namespace

Image draw_strap_chart(const StrapReport& report) {
  Image image(chart_width, page_height, palette::paper);
  const Case& input = report.input;
  put(image,
      "Strap window: " + shortened(input.name, window_title, chart_width - 2 * chart_margin - 330),
      window_title, {chart_margin, 90});
  const std::string settings =
      input.settings.bilevel
          ? fmt::format("inspiratory {:.4g}, expiratory {:.4g} cmH2O",
                        units::to_cmh2o(input.settings.inspiratory),
                        units::to_cmh2o(input.settings.expiratory))
          : fmt::format("CPAP {:.4g} cmH2O", units::to_cmh2o(input.settings.expiratory));
  const std::string grey = unseated_ranges(report).empty() ? "" : ". Grey: the mask does not seat.";
  put(image,
      shortened(fmt::format("{}, size {}, on the face \u2018{}\u2019, {}{}", input.cushion.name,
                            input.cushion.size, input.face.name, settings, grey),
                window_body, chart_width - 2 * chart_margin),
      window_body, {chart_margin, 132});
  put(image, shortened(window_sentence(report), window_body, chart_width - 2 * chart_margin),
      window_body, {chart_margin, 168});

  const auto& equal = report.sweep.equal;
  const double x_min = 0;
  const double x_max = equal.empty() ? 1 : equal.back().mean_n(report.mask);
  const auto pressures = pressure_curves(report);
  const auto leaks = leak_curves(report);
  const Panel above{{window_left, 250, window_right, 690},
                    x_min,
                    x_max,
                    std::max(20.0, 1.05 * highest(pressures))};
  const double limit = input.leak_limit_l_min;
  const Panel below{
      {window_left, 780, window_right, 1130}, x_min, x_max, leak_axis_end(leaks, limit)};
  for (const Panel& panel : {above, below}) {
    shade_window(image, panel, report.sweep.window);
    shade_unseated(image, panel, report);
  }
  draw_axes(image, above, "Pressure over 1 cm\u00b2, mmHg, highest of the breath");
  draw_axes(image, below, "Unintentional leak, L/min");
  draw_limit(image, below, limit, fmt::format("limit {:g}", limit));
  draw_limit(image, below, input.leak_target_l_min,
             fmt::format("target {:g}", input.leak_target_l_min));
  draw_lines(image, above, lines_of(pressures));
  draw_lines(image, below, leak_lines(leaks));
  draw_tension_axis(image, report, below);
  double y = 1290;
  const std::string caution =
      "All straps alike, tension with the gas off. Not modelled: a lip that creases when "
      "over-tightened and then leaks more. A planning and teaching aid, not a medical device; "
      "local policy and licensed practice first.";
  for (const std::string& each : wrapped(caution, window_body, chart_width - 2 * chart_margin, 3)) {
    put(image, each, window_body, {chart_margin, y});
    y += Font::of(window_body.weight).line_height(window_body.size_px);
  }
  return image;
}

}  // namespace rimload
