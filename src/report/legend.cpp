#include "report/legend.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/face_drawing.hpp"
#include "report/stroke.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

// All in units.
constexpr double bar_left = 96;
constexpr double bar_width = 760;
constexpr double bar_height = 32;
constexpr double tip_length = 26;
constexpr double signs_left = 950;
constexpr double sign_row = 40;
constexpr double scale_bar_mm = 20;

double highest_pressure(const Scene& scene) {
  double most = 0;
  for (const SceneStation& station : scene.stations) {
    for (const double p : station.pressure_mmhg) most = std::max(most, p);
  }
  for (const auto& row : scene.pad_pressure_mmhg) {
    for (const double p : row) most = std::max(most, p);
  }
  return most;
}

void add_scale(Legend& legend, const Scene& scene, const Box& box, double unit) {
  const TextStyle title{24 * unit, Weight::semibold, palette::ink};
  const TextStyle plain{24 * unit, Weight::regular, palette::ink};
  const double max = scene.scale_max_mmhg;
  const double top = box.top + 84 * unit;
  legend.bar = {box.left + bar_left * unit, top, box.left + (bar_left + bar_width) * unit,
                top + bar_height * unit};
  const auto x_at = [&](double mmhg) { return legend.bar.left + legend.bar.width() * mmhg / max; };
  const double above = legend.bar.top - 16 * unit;
  const double below = legend.bar.bottom + 36 * unit;
  const std::string heading = "Contact pressure on the skin";
  legend.texts.push_back({heading, title, {box.left, box.top + 24 * unit}});
  if (!scene.labels.empty()) {
    // Colours are those of each point: a small dark place can have a low number beside it.
    const TextStyle soft{24 * unit, Weight::regular, palette::soft_ink};
    const double left = box.left + text_width(heading, title) + 26 * unit;
    legend.texts.push_back(
        {"Numbers: largest mean over 1 cm\u00b2", soft, {left, box.top + 24 * unit}});
  }
  legend.texts.push_back({"kPa", plain, {box.left, above}});
  legend.texts.push_back({"mmHg", plain, {box.left, below}});
  const auto add = [&](double mmhg, const std::string& text, bool is_above) {
    const double x = x_at(mmhg);
    legend.ticks.push_back({x, is_above});
    legend.texts.push_back(
        {text, plain, {x - 0.5 * text_width(text, plain), is_above ? above : below}});
  };
  for (const double tick : round_ticks(max, 6)) add(tick, fmt::format("{:g}", tick), false);
  const double kpa_per_mmhg = units::to_kpa(units::from_mmhg(1));
  for (const double tick : round_ticks(max * kpa_per_mmhg, 7)) {
    add(tick / kpa_per_mmhg, fmt::format("{:g}", tick), true);
  }
  const double most = highest_pressure(scene);
  std::string remark;
  if (most <= 0) {
    remark = "No contact with the skin.";
  } else if (most > max) {
    remark =
        fmt::format("Darkest: {:g} mmHg and more; the highest here is {:.0f} mmHg.", max, most);
  }
  legend.bottom_px = below + 10 * unit;
  if (remark.empty()) return;
  legend.texts.push_back({remark, title, {box.left, below + 44 * unit}});
  legend.bottom_px += 44 * unit;
}

void add_signs(Legend& legend, const Scene& scene, const Box& box, double px_per_mm, double unit) {
  const TextStyle plain{24 * unit, Weight::regular, palette::ink};
  const bool any_open = std::any_of(scene.stations.begin(), scene.stations.end(),
                                    [](const SceneStation& s) { return s.open; });
  const double width = scale_bar_mm * px_per_mm;
  double middle = box.top + 15 * unit;
  const auto add = [&](Sign sign, const std::string& words) {
    const double left = box.left + signs_left * unit;
    legend.signs.push_back({sign, {left, middle - 12 * unit, left + width, middle + 12 * unit}});
    legend.texts.push_back({words, plain, {left + width + 18 * unit, middle + 9 * unit}});
    middle += sign_row * unit;
  };
  add(Sign::scale_bar, fmt::format("{:g} mm", scale_bar_mm));
  if (!scene.stations.empty()) add(Sign::rim, "cushion rim");
  const bool arms = std::any_of(scene.straps.begin(), scene.straps.end(),
                                [](const SceneStrap& strap) { return !strap.arm.empty(); });
  if (!scene.straps.empty()) add(Sign::strap, arms ? "strap and its arm" : "strap");
  if (any_open) add(Sign::gap, "gap: gas can pass");
  if (!scene.patches.empty()) add(Sign::dressing, "dressing place");
  if (!scene.injuries.empty()) add(Sign::injury, "injured skin");
  if (!scene.hair.empty()) add(Sign::beard, "beard");
  if (scene.tube) add(Sign::tube, "feeding tube");
  if (!scene.jets.empty()) add(Sign::jet, "leaking gas");
  legend.bottom_px = std::max(legend.bottom_px, middle - (sign_row - 15) * unit);
}

void draw_sign(Image& image, const LegendSign& sign, double unit) {
  const Box& box = sign.box;
  const double y = box.centre().y();
  const Vec3 from(box.left, y, 0);
  const Vec3 to(box.right, y, 0);
  const auto line = [&](double at, double width, Rgb colour, double cover) {
    draw_stroke(image, {Vec3(box.left, at, 0), Vec3(box.right, at, 0)},
                {.width_px = width * unit, .colour = colour, .cover = cover});
  };
  const StrokePath frame = closed({{box.left, box.top, 0},
                                   {box.right, box.top, 0},
                                   {box.right, box.bottom, 0},
                                   {box.left, box.bottom, 0}});
  switch (sign.sign) {
    case Sign::scale_bar: {
      const double h = 8 * unit;
      const std::vector<StrokePath> bar{{from, to},
                                        {from - Vec3(0, h, 0), from + Vec3(0, h, 0)},
                                        {to - Vec3(0, h, 0), to + Vec3(0, h, 0)}};
      draw_strokes(image, bar, {.width_px = 3 * unit, .colour = palette::ink});
      break;
    }
    case Sign::rim:
      line(box.top + 3 * unit, 1.8, palette::rim, 0.85);
      line(y, 1.5, palette::rim, 0.7);
      line(box.bottom - 3 * unit, 1.8, palette::rim, 0.85);
      break;
    case Sign::strap: {
      fill_box(image, box, palette::strap);
      line(box.top, 1.8, palette::strap_edge, 0.8);
      line(box.bottom, 1.8, palette::strap_edge, 0.8);
      break;
    }
    case Sign::gap:
      for (int py = static_cast<int>(box.top); py < static_cast<int>(box.bottom); ++py) {
        for (int px = static_cast<int>(box.left); px < static_cast<int>(box.right); ++px) {
          image.blend(px, py, palette::ink, gap_stripe(px + 0.5, py + 0.5, 4.9 * unit));
        }
      }
      draw_stroke(image, frame, {.width_px = 2.7 * unit, .colour = palette::ink});
      break;
    case Sign::beard: {
      std::vector<StrokePath> hairs;
      for (double x = box.left + 6 * unit; x < box.right; x += 14 * unit) {
        hairs.push_back({{x, y - 6 * unit, 0}, {x, y + 6 * unit, 0}});
      }
      draw_strokes(image, hairs, {.width_px = 2.2 * unit, .colour = palette::hair, .cover = 0.75});
      break;
    }
    case Sign::tube:
      line(y, 14, palette::tube_edge, 1);
      line(y, 9.5, palette::tube, 1);
      break;
    case Sign::jet: {
      const std::vector<StrokePath> arrow{{from, to},
                                          {to, to + Vec3(-14 * unit, -9 * unit, 0)},
                                          {to, to + Vec3(-14 * unit, 9 * unit, 0)}};
      draw_strokes(image, arrow, {.width_px = 5 * unit, .colour = palette::jet});
      break;
    }
    case Sign::injury: {
      std::vector<StrokePath> hatch;
      const double h = box.height();
      for (double x = box.left; x + h <= box.right; x += 14 * unit) {
        hatch.push_back({{x, box.bottom, 0}, {x + h, box.top, 0}});
      }
      draw_strokes(image, hatch, {.width_px = 2.7 * unit, .colour = palette::alarm});
      break;
    }
    case Sign::dressing:
      draw_strokes(image, dashes(frame, 14 * unit, 9 * unit),
                   {.width_px = 3.2 * unit, .colour = palette::dressing});
      break;
  }
}

}  // namespace

std::vector<double> round_ticks(double end, int n) {
  const double rough = end / std::max(n, 1);
  const double power = std::pow(10.0, std::floor(std::log10(rough)));
  double step = 10 * power;
  for (const double factor : {1.0, 2.0, 5.0}) {
    if (factor * power >= rough * 0.9999) {
      step = factor * power;
      break;
    }
  }
  std::vector<double> ticks;
  for (int k = 0; k * step <= end * (1 + 1e-9); ++k) ticks.push_back(k * step);
  return ticks;
}

Legend layout_legend(const Scene& scene, const Box& box, double px_per_mm, double unit_px) {
  Legend legend;
  add_scale(legend, scene, box, unit_px);
  add_signs(legend, scene, box, px_per_mm, unit_px);
  return legend;
}

void draw_legend(Image& image, const Legend& legend, const ColourScale& scale, double unit_px) {
  const Box& bar = legend.bar;
  const double tip = tip_length * unit_px;
  const double half = 0.5 * bar.height();
  for (int y = static_cast<int>(bar.top); y < static_cast<int>(std::ceil(bar.bottom)); ++y) {
    for (int x = static_cast<int>(bar.left); x < static_cast<int>(bar.right + tip); ++x) {
      const double fraction = (x + 0.5 - bar.left) / bar.width();
      // Beyond the end the bar narrows to a point.
      const double beyond = std::max(0.0, x + 0.5 - bar.right);
      const double room = half * (1 - beyond / tip) - std::abs(y + 0.5 - bar.centre().y());
      image.blend(x, y, scale.at(fraction * scale.max_mmhg()),
                  static_cast<float>(std::clamp(room + 0.5, 0.0, 1.0)));
    }
  }
  std::vector<StrokePath> ticks;
  for (const LegendTick& tick : legend.ticks) {
    const double from = tick.above ? bar.top - 9 * unit_px : bar.bottom + 1;
    const double to = tick.above ? bar.top - 1 : bar.bottom + 9 * unit_px;
    ticks.push_back({Vec3(tick.x_px, from, 0), Vec3(tick.x_px, to, 0)});
  }
  draw_strokes(image, ticks, {.width_px = 1.8 * unit_px, .colour = palette::soft_ink});
  for (const LegendSign& sign : legend.signs) draw_sign(image, sign, unit_px);
  for (const TextItem& text : legend.texts) draw_text(image, text);
}

}  // namespace rimload
