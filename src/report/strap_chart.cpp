#include "report/strap_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "fit/breath.hpp"
#include "fit/caution.hpp"
#include "report/chart_ink.hpp"
#include "report/legend.hpp"
#include "report/palette.hpp"
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
// Told apart by lightness as well as hue; every line is named at its end.
constexpr std::array line_colours{Rgb{20, 72, 140}, Rgb{186, 84, 0}, Rgb{118, 46, 122},
                                  Rgb{0, 112, 96}, Rgb{96, 104, 114}};
const TextStyle window_title{44, Weight::semibold, palette::ink};
const TextStyle window_heading{27, Weight::semibold, palette::ink};
const TextStyle window_body{24, Weight::regular, palette::soft_ink};
const TextStyle tick_text{22, Weight::regular, palette::soft_ink};

struct Point {
  double x, y;
};

struct Curve {
  std::string name;
  std::vector<Point> points;
  Rgb colour = palette::ink;
  bool dashed = false;
};

// One pair of axes; values outside are cut off.
struct Panel {
  Box box;
  double x_min, x_max, y_max;

  [[nodiscard]] Vec2 at(Point p) const {
    return {box.left + (p.x - x_min) / (x_max - x_min) * box.width(),
            box.bottom - p.y / y_max * box.height()};
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

// The stretches of a curve below the panel's top.
std::vector<StrokePath> visible(const Panel& panel, const Curve& curve) {
  std::vector<StrokePath> out;
  bool inside = false;
  for (std::size_t k = 0; k < curve.points.size(); ++k) {
    const Point p = curve.points[k];
    const bool here = p.y <= panel.y_max;
    if (k > 0 && here != inside) {
      const Point q = curve.points[k - 1];
      const double share = (panel.y_max - q.y) / (p.y - q.y);
      const Vec2 edge = panel.at({q.x + share * (p.x - q.x), panel.y_max});
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
void name_curves(Image& image, const Panel& panel, const std::vector<Curve>& curves) {
  constexpr double apart = 30;
  struct Name {
    const Curve* curve;
    double y, wanted;
  };
  std::vector<Name> names;
  for (const Curve& curve : curves) {
    if (curve.points.empty()) continue;
    const double y = std::max(panel.at(curve.points.back()).y(), panel.box.top + 6);
    names.push_back({&curve, y, y});
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
         name.curve->colour);
    put(image, name.curve->name, {23, Weight::semibold, name.curve->colour},
        {panel.box.right + 28, name.y + 8});
  }
}

void draw_curves(Image& image, const Panel& panel, const std::vector<Curve>& curves) {
  for (const Curve& curve : curves) {
    const Stroke stroke{.width_px = curve.dashed ? 2.5 : 4, .colour = curve.colour};
    for (const StrokePath& path : visible(panel, curve)) {
      if (curve.dashed) {
        draw_strokes(image, dashes(path, 12, 8), stroke);
      } else {
        draw_stroke(image, path, stroke);
      }
    }
  }
  name_curves(image, panel, curves);
}

void shade_window(Image& image, const Panel& panel, const StrapWindow& window) {
  if (!window.seals) return;
  const double left = panel.at({window.sealing_n, 0}).x();
  const double right = panel.at({std::min(window.upper_n, panel.x_max), 0}).x();
  fill_box(image, {left, panel.box.top, std::max(right, left + 2), panel.box.bottom}, window_shade);
  line(image, {left, panel.box.top}, {left, panel.box.bottom}, 2.5, window_edge);
  if (window.upper_end != WindowEnd::tension_limit) {
    line(image, {right, panel.box.top}, {right, panel.box.bottom}, 2.5, window_edge, true);
  }
}

// Sites by their hardest pressed side, hardest first, as many as there are colours.
std::vector<Curve> pressure_curves(const StrapReport& report) {
  struct Row {
    Site site;
    double most = 0;
    Curve curve;
  };
  std::vector<Row> rows;
  for (const StrapPoint& point : report.sweep.equal) {
    if (!point.seated) continue;
    std::vector<std::pair<Site, double>> here;
    for (const SitePressure& site : point.sites) {
      if (site.site == Site::eyelid) continue;
      const double mmhg = units::to_mmhg(site.sensor);
      const auto same = std::find_if(here.begin(), here.end(),
                                     [&](const auto& each) { return each.first == site.site; });
      if (same == here.end()) {
        here.emplace_back(site.site, mmhg);
      } else {
        same->second = std::max(same->second, mmhg);
      }
    }
    for (const auto& [site, mmhg] : here) {
      auto row = std::find_if(rows.begin(), rows.end(),
                              [&, which = site](const Row& each) { return each.site == which; });
      if (row == rows.end()) row = rows.insert(rows.end(), {site, 0, {}});
      row->most = std::max(row->most, mmhg);
      row->curve.points.push_back({point.mean_n(report.mask), mmhg});
    }
  }
  std::stable_sort(rows.begin(), rows.end(),
                   [](const Row& a, const Row& b) { return a.most > b.most; });
  std::vector<Curve> out;
  for (std::size_t k = 0; k < std::min(rows.size(), line_colours.size()); ++k) {
    if (rows[k].most <= 0) break;
    rows[k].curve.name = words_for(rows[k].site);
    rows[k].curve.colour = line_colours[k];
    out.push_back(std::move(rows[k].curve));
  }
  return out;
}

std::vector<Curve> leak_curves(const StrapReport& report) {
  const auto phases = phases_of(report.input.settings);
  std::vector<Curve> out(phases.size());
  for (std::size_t k = 0; k < phases.size(); ++k) {
    out[k].name = phases.size() == 1 ? "leak" : std::string(name_of(phases[k].phase));
    out[k].colour = line_colours[k];
    out[k].dashed = phases.size() > 1;
  }
  if (phases.size() > 1) out.push_back({"mean of the breath", {}, palette::ink, false});
  for (const StrapPoint& point : report.sweep.equal) {
    if (!point.seated) continue;
    const double n = point.mean_n(report.mask);
    for (std::size_t k = 0; k < phases.size(); ++k) {
      out[k].points.push_back({n, units::to_l_per_min(point.leak[k])});
    }
    if (phases.size() > 1) out.back().points.push_back({n, units::to_l_per_min(point.mean_leak)});
  }
  return out;
}

double highest(const std::vector<Curve>& curves) {
  double most = 0;
  for (const Curve& curve : curves) {
    for (const Point& p : curve.points) most = std::max(most, p.y);
  }
  return most;
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

std::string window_words(const StrapReport& report) {
  const StrapWindow& window = report.sweep.window;
  if (!window.seals) {
    return fmt::format("No equal tension up to {:g} N a strap seals.", strap_tension_limit_n);
  }
  const std::string seals = fmt::format("Shaded: seals from {:.1f} N a strap, ", window.sealing_n);
  switch (window.upper_end) {
    case WindowEnd::user_limit:
      return seals + fmt::format("above the limit set for the {} from {:.1f} N.",
                                 place_words(window.upper_site), window.upper_n);
    case WindowEnd::tension_limit:
      return seals + fmt::format("no site {:.0f} % harder pressed up to {:g} N.",
                                 100 * (window_rise - 1), strap_tension_limit_n);
    case WindowEnd::site_rise: break;
  }
  return seals + fmt::format("{} pressed {:.0f} % harder than that from {:.1f} N (a convention).",
                             place_words(window.upper_site), 100 * (window_rise - 1),
                             window.upper_n);
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
  put(image,
      shortened(fmt::format("{}, size {}, on the face \u2018{}\u2019, {}", input.cushion.name,
                            input.cushion.size, input.face.name, settings),
                window_body, chart_width - 2 * chart_margin),
      window_body, {chart_margin, 132});
  put(image, shortened(window_words(report), window_body, chart_width - 2 * chart_margin),
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
  const Panel below{{window_left, 780, window_right, 1130},
                    x_min,
                    x_max,
                    std::clamp(1.05 * highest(leaks), 1.25 * limit, 2.0 * limit)};
  for (const Panel& panel : {above, below}) shade_window(image, panel, report.sweep.window);
  draw_axes(image, above, "Pressure over 1 cm\u00b2, mmHg, highest of the breath");
  draw_axes(image, below, "Unintentional leak, L/min");
  draw_limit(image, below, limit, fmt::format("limit {:g}", limit));
  draw_limit(image, below, input.leak_target_l_min,
             fmt::format("target {:g}", input.leak_target_l_min));
  const auto seated = std::find_if(equal.begin(), equal.end(),
                                   [](const StrapPoint& point) { return point.seated; });
  if (seated != equal.begin()) {
    const double to = seated == equal.end() ? x_max : seated->mean_n(report.mask);
    const std::string words = "does not seat";
    const double room = above.at({to, 0}).x() - above.box.left;
    if (room > text_width(words, window_body) + 20) {
      put_centred(image, words, window_body, {above.box.left + 0.5 * room, above.box.centre().y()});
    }
  }
  draw_curves(image, above, pressures);
  draw_curves(image, below, leaks);
  draw_tension_axis(image, report, below);
  double y = 1290;
  const std::string caution =
      "All straps alike, tension with the gas off. Not modelled: a lip that creases when "
      "over-tightened and then leaks more. A planning and teaching aid, not a medical device; "
      "local "
      "policy and licensed practice first.";
  for (const std::string& each : wrapped(caution, window_body, chart_width - 2 * chart_margin, 3)) {
    put(image, each, window_body, {chart_margin, y});
    y += Font::of(window_body.weight).line_height(window_body.size_px);
  }
  return image;
}

}  // namespace rimload
