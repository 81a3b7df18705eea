#include "report/section_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "fit/caution.hpp"
#include "report/chart_ink.hpp"
#include "report/colour_scale.hpp"
#include "report/finding_cautions.hpp"
#include "report/legend.hpp"
#include "report/raster.hpp"
#include "report/stroke.hpp"
#include "report/text_item.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

constexpr int sheet_width = 1400;
constexpr int sheet_height = 1180;
constexpr double sheet_margin = 60;
const Box tissue_box{sheet_margin, 400, sheet_width - sheet_margin, 830};
constexpr double bone_height_px = 46;
constexpr double most_strain_percent = 50;
constexpr Rgb bone_colour{226, 222, 210};
const TextStyle sheet_title{44, Weight::semibold, palette::ink};
const TextStyle sheet_text{24, Weight::regular, palette::soft_ink};
const TextStyle small_text{22, Weight::regular, palette::soft_ink};
const TextStyle layer_text{22, Weight::semibold, palette::ink};

// Millimetres of the slice to pixels; bone below.
struct SliceView {
  double px_per_mm;
  double centre_px;
  double bone_px;
  [[nodiscard]] Vec2 at(const Eigen::Vector2d& p) const {
    return {centre_px + px_per_mm * p.x(), bone_px - px_per_mm * p.y()};
  }
};

SliceView view_of(const SiteSection& section) {
  const double height = section.tissue.depth_mm + section.dressing.thickness_mm;
  double reach = height;
  for (const StationSample& sample : section.samples) {
    reach = std::max(reach, std::abs(sample.across_mm) + 0.6 * section.tissue.depth_mm + 2);
  }
  const double across = 0.5 * tissue_box.width() / reach;
  const double down = tissue_box.height() / height;
  return {std::min(across, down), tissue_box.centre().x(), tissue_box.bottom};
}

void draw_tissue(Image& image, const SectionField& field, const SliceView& view,
                 const ColourScale& scale) {
  RasterLayer layer;
  for (Eigen::Index k = 0; k < field.nodes.cols(); ++k) {
    const Vec2 at = view.at(field.nodes.col(k) + field.displacement.col(k));
    RasterVertex vertex;
    // Far nodes are drawn at the edge: the raster takes corners near the picture only.
    vertex.x = static_cast<float>(std::clamp(at.x(), -2000.0, 3000.0));
    vertex.y = static_cast<float>(at.y());
    vertex.u = static_cast<float>(100 * field.at[static_cast<std::size_t>(k)].compression());
    layer.vertices.push_back(vertex);
  }
  for (const std::array<int, 8>& e : field.elements) {
    for (const auto& [a, b, c] : {std::array{0, 4, 7}, std::array{4, 1, 5}, std::array{5, 2, 6},
                                  std::array{6, 3, 7}, std::array{4, 5, 6}, std::array{4, 6, 7}}) {
      const auto node = [&](int n) { return e[static_cast<std::size_t>(n)]; };
      layer.triangles.push_back({node(a), node(b), node(c)});
    }
  }
  layer.paint = [&](const Fragment& at) { return with_cover(scale.at(at.u), 1); };
  const PixelRect area{static_cast<int>(tissue_box.left), 0, static_cast<int>(tissue_box.right),
                       sheet_height};
  (void)draw_layers(image, area, std::array{layer});
}

// The outer sides of a layer's topmost elements, deformed.
StrokePath top_of(const SectionField& field, int layer, const SliceView& view) {
  std::vector<std::pair<double, Vec3>> points;
  const int n = static_cast<int>(field.elements.size());
  for (int e = 0; e < n; ++e) {
    const auto index = static_cast<std::size_t>(e);
    if (field.layer_of_element[index] != layer) continue;
    const bool topmost = e + 1 == n || field.layer_of_element[index + 1] != layer;
    if (!topmost) continue;
    for (const std::size_t corner : {3U, 6U, 2U}) {
      const int node = field.elements[index][corner];
      const Vec2 at = view.at(field.nodes.col(node) + field.displacement.col(node));
      if (at.x() < -sheet_width || at.x() > 2 * sheet_width) continue;
      points.emplace_back(at.x(), Vec3(at.x(), at.y(), 0));
    }
  }
  std::stable_sort(points.begin(), points.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  StrokePath out;
  for (const auto& [x, point] : points) out.push_back(point);
  return out;
}

// The slice as it is shown: where its linear law would press a dressing through itself, unpressed.
SectionField shown_field(const SectionAnswer& answer) {
  SectionField out = answer.field;
  if (pressed_through(answer)) out.displacement.setZero();
  return out;
}

void draw_heading(Image& image, const SiteSection& section, const Case& input) {
  const double width = sheet_width - 2 * sheet_margin;
  draw_text(image, {shortened("Slice at the " + place_words(section.place) + ": " + input.name,
                              sheet_title, width),
                    sheet_title,
                    {sheet_margin, 90}});
  draw_text(image, {shortened(fmt::format("{}, size {}, on the face \u2018{}\u2019, {}; across the "
                                          "rim, its inside to the left",
                                          input.cushion.name, input.cushion.size, input.face.name,
                                          name_of(section.phase)),
                              sheet_text, width),
                    sheet_text,
                    {sheet_margin, 132}});
}

// The rim's pressure as bars that stand above the skin.
void draw_pressure(Image& image, const SiteSection& section, const SliceView& view) {
  constexpr double foot_px = 370;
  constexpr double tallest_px = 130;
  double most = 0;
  for (const StationSample& sample : section.samples) most = std::max(most, sample.pressure);
  for (const StationSample& sample : section.samples) {
    const double left = view.at({sample.across_mm - sample.width_mm / 2, 0}).x() + 2;
    const double right = view.at({sample.across_mm + sample.width_mm / 2, 0}).x() - 2;
    const double top = foot_px - tallest_px * sample.pressure / most;
    fill_box(image, {left, top, right, foot_px}, palette::rim);
    const std::string words = fmt::format("{:.0f}", units::to_mmhg(sample.pressure));
    const double width = text_width(words, small_text);
    if (width < right - left + 4 && units::to_mmhg(sample.pressure) >= 0.5) {
      draw_text(image, {words, small_text, {0.5 * (left + right - width), top - 8}});
    }
  }
  draw_text(image, {"Pressure of the rim, mmHg", small_text, {sheet_margin, foot_px}});
}

void draw_scale(Image& image, const SliceView& view, const ColourScale& scale) {
  constexpr double top = 945;
  const Box bar{sheet_margin, top, sheet_margin + 520, top + 30};
  for (int x = static_cast<int>(bar.left); x < static_cast<int>(bar.right); ++x) {
    const Rgb colour = scale.at(most_strain_percent * (x - bar.left) / bar.width());
    fill_box(image, {static_cast<double>(x), bar.top, x + 1.0, bar.bottom}, colour);
  }
  draw_text(image, {"Largest compressive strain, % (darkest: that and more)",
                    small_text,
                    {bar.left, bar.top - 12}});
  for (const double tick : round_ticks(most_strain_percent, 5)) {
    const std::string words = fmt::format("{:g}", tick);
    const double x = bar.left + tick / most_strain_percent * bar.width();
    draw_text(image,
              {words, small_text, {x - 0.5 * text_width(words, small_text), bar.bottom + 26}});
  }
  constexpr double bar_mm = 5;
  const double left = bar.right + 120;
  draw_line(image, {left, bar.bottom}, {left + bar_mm * view.px_per_mm, bar.bottom},
            {.width_px = 4, .colour = palette::ink});
  draw_text(image, {"5 mm", small_text, {left, bar.top + 8}});
}

}  // namespace

bool pressed_through(const SectionAnswer& answer) {
  constexpr double most_compression = 0.9;
  return answer.dressing.compression > most_compression;
}

Image draw_section(const SiteSection& section, const Case& input) {
  Image image(sheet_width, sheet_height, palette::paper);
  const double width = sheet_width - 2 * sheet_margin;
  const SliceView view = view_of(section);
  const ColourScale scale(most_strain_percent);
  const SectionField field = shown_field(section.answer);
  draw_tissue(image, field, view, scale);
  fill_box(
      image,
      {tissue_box.left, tissue_box.bottom, tissue_box.right, tissue_box.bottom + bone_height_px},
      bone_colour);
  draw_line(image, {tissue_box.left, tissue_box.bottom}, {tissue_box.right, tissue_box.bottom},
            {.width_px = 3, .colour = palette::ink});
  const double skin_px = view.at({0, section.tissue.depth_mm}).y();
  const double fat_px = top_of(field, 0, view).front().y();
  for (const int layer : {0, 1}) {
    draw_stroke(image, top_of(field, layer, view), {.width_px = 2.5, .colour = palette::ink});
  }
  for (const Box& beside :
       {Box{0, 0, tissue_box.left, tissue_box.bottom + bone_height_px},
        Box{tissue_box.right, 0, sheet_width, tissue_box.bottom + bone_height_px}}) {
    fill_box(image, beside, palette::paper);
  }
  draw_heading(image, section, input);
  draw_pressure(image, section, view);
  const double pen = tissue_box.left + 14;
  if (section.dressing.thickness_mm > 0) {
    const double top_px = view.at({0, section.tissue.depth_mm + section.dressing.thickness_mm}).y();
    draw_text(image, {"dressing", layer_text, {pen, 0.5 * (top_px + skin_px) + 8}});
  }
  draw_text(image, {"skin", layer_text, {pen, 0.5 * (skin_px + fat_px) + 8}});
  draw_text(image, {"fat", layer_text, {pen, 0.5 * (fat_px + tissue_box.bottom) + 8}});
  draw_text(image, {"bone, taken as flat and rigid",
                    layer_text,
                    {pen, tissue_box.bottom + 0.5 * bone_height_px + 8}});
  draw_scale(image, view, scale);
  const SectionAnswer& answer = section.answer;
  double y = 1062;
  const auto say = [&](const std::string& text) {
    for (const std::string& each : wrapped(text, sheet_text, width, 3)) {
      draw_text(image, {each, sheet_text, {sheet_margin, y}});
      y += Font::of(sheet_text.weight).line_height(sheet_text.size_px);
    }
  };
  say(fmt::format(
      "At most: skin {:.0f} % compressed, fat {:.0f} %; {:.0f} mmHg on the skin, {:.0f} "
      "mmHg on the bone. Tissue {:.1f} mm deep.{}",
      100 * answer.skin.compression, 100 * answer.fat.compression,
      units::to_mmhg(answer.skin_pressure_peak), units::to_mmhg(answer.bone_pressure_peak),
      section.tissue.depth_mm,
      answer.beyond_small_strain ? " Beyond small strain: compare slices, don't read them." : ""));
  if (pressed_through(answer)) {
    say("Drawn unpressed: the slice is linear and would press the dressing through itself.");
  }
  say(standing_line());
  return image;
}

}  // namespace rimload
