#include "report/measuring_guide.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>

#include "report/camera.hpp"
#include "report/face_drawing.hpp"
#include "report/finding_lines.hpp"
#include "report/palette.hpp"
#include "report/stroke.hpp"
#include "report/text_item.hpp"
#include "report_data.hpp"

namespace rimload {

namespace {

constexpr int guide_width = 1400;
constexpr double guide_margin = 60;
constexpr double guide_px_per_mm = 3.9;
constexpr double view_height_mm = 197;
constexpr double guide_middle_mm = -33;
constexpr double guide_side_mm = 18;
const TextStyle title_style{46, Weight::semibold, palette::ink};
const TextStyle subtitle_style{27, Weight::regular, palette::soft_ink};
const TextStyle entry_style{25, Weight::semibold, palette::ink};
const TextStyle how_style{23, Weight::regular, palette::soft_ink};
const TextStyle number_style{19, Weight::semibold, palette::paper};
const TextStyle caution_style{24, Weight::regular, palette::ink};
const TextStyle warning_style{24, Weight::semibold, palette::alarm};
constexpr double disc_px = 14;

const nlohmann::json& words() {
  static const auto json = nlohmann::json::parse(data::measuring_guide_json());
  return json;
}

// Where a dimension's line is drawn: beside its landmarks by so much, so that lines keep apart.
struct Lane {
  Measure measure;
  const char *from, *to;   // landmarks; from the front the left one and its mirror image
  double aside_mm = 0;     // up from the front; in the side view before the tip, if not 0
  double number_at = 0.5;  // share of the line, in the side view
};
constexpr std::array front_lanes{
    Lane{Measure::nose_breadth, "alare", "alare"},
    Lane{Measure::lip_length, "cheilion", "cheilion"},
    Lane{Measure::face_width, "zygion", "zygion"},
    Lane{Measure::nasal_root_breadth, "nasal_root_side", "nasal_root_side", -9},
    Lane{Measure::bigonial_breadth, "gonion", "gonion"},
    Lane{Measure::minimum_frontal_breadth, "frontotemporale", "frontotemporale"},
    Lane{Measure::inner_canthal_breadth, "endocanthion", "endocanthion", 7},
    Lane{Measure::interpupillary_breadth, "lid_front", "lid_front", 13},
    Lane{Measure::outer_canthal_breadth, "exocanthion", "exocanthion", 20}};
constexpr std::array side_lanes{Lane{Measure::nose_length, "sellion", "subnasale", 10},
                                Lane{Measure::menton_subnasale, "subnasale", "menton", 10, 0.68},
                                Lane{Measure::sellion_supramentale, "sellion", "supramentale", 19},
                                Lane{Measure::face_length, "sellion", "menton", 28},
                                Lane{Measure::nose_protrusion, "subnasale", "pronasale"}};

StrokePath on_page(const Vec2& a, const Vec2& b) { return {{a.x(), a.y(), 0}, {b.x(), b.y(), 0}}; }

void draw_number(Image& image, Measure measure, const Vec2& at) {
  const auto& order = measures_as_taken();
  const auto k = std::find(order.begin(), order.end(), measure) - order.begin();
  const std::string text = std::to_string(k + 1);
  draw_dot(image, at, disc_px + 2, palette::paper);
  draw_dot(image, at, disc_px, palette::ink);
  draw_text(image,
            {text,
             number_style,
             {at.x() - 0.5 * text_width(text, number_style),
              at.y() + 0.5 * Font::of(number_style.weight).cap_height(number_style.size_px)}});
}

// The line with a tick at each end, and thin lines to the landmarks where it is drawn beside them.
void draw_dimension(Image& image, const std::array<Vec2, 2>& marks, const std::array<Vec2, 2>& ends,
                    double halo) {
  constexpr double tick_px = 8;
  const Vec2 along = (ends[1] - ends[0]).normalized();
  const Vec2 across = tick_px * Vec2(-along.y(), along.x());
  std::vector<StrokePath> bold{on_page(ends[0], ends[1])};
  std::vector<StrokePath> thin;
  for (const std::size_t k : {0, 1}) {
    bold.push_back(on_page(ends[k] - across, ends[k] + across));
    if (marks[k] != ends[k]) thin.push_back(on_page(marks[k], ends[k]));
  }
  draw_strokes(image, thin, {.width_px = 1.6, .colour = palette::leader});
  draw_strokes(image, bold, {.width_px = 3 + halo, .colour = palette::paper, .cover = 0.8});
  draw_strokes(image, bold, {.width_px = 3, .colour = palette::jet});
  for (const Vec2& mark : marks) draw_dot(image, mark, 4, palette::jet);
}

void draw_front(Image& image, const MeasuringGuide& guide, const Camera& camera) {
  for (const Lane& lane : front_lanes) {
    const Vec3 left = find_landmark(guide.landmarks, lane.from, Side::left).position_face;
    const Vec3 right = find_landmark(guide.landmarks, lane.to, Side::right).position_face;
    const Vec3 aside(0, lane.aside_mm, 0);
    const auto at = [&](const Vec3& point) { return Vec2(camera.project(point).head<2>()); };
    const std::array ends{at(right + aside), at(left + aside)};
    draw_dimension(image, {at(right), at(left)}, ends, 3);
    draw_number(image, lane.measure, ends[1] + Vec2(disc_px + 12, 0));
  }
}

void draw_side(Image& image, const MeasuringGuide& guide, const Camera& camera) {
  const auto place = [&](const char* name) {
    return find_landmark(guide.landmarks, name, Side::midline).position_face;
  };
  const double tip_mm = place("pronasale").z();
  for (const Lane& lane : side_lanes) {
    const std::array points{place(lane.from), place(lane.to)};
    std::array<Vec2, 2> marks;
    std::array<Vec2, 2> ends;
    for (const std::size_t k : {0, 1}) {
      Vec3 end = points[k];
      if (lane.aside_mm != 0) end.z() = tip_mm + lane.aside_mm;
      marks[k] = camera.project(points[k]).head<2>();
      ends[k] = camera.project(end).head<2>();
    }
    draw_dimension(image, marks, ends, 3);
    const Vec2 middle = ends[0] + lane.number_at * (ends[1] - ends[0]);
    const Vec2 below(disc_px, disc_px + 10);  // of the short one, beside which the number stands
    draw_number(image, lane.measure, lane.aside_mm != 0 ? middle : Vec2(middle + below));
  }
}

// Lines below each other from a baseline on; returns the next baseline.
double put_lines(Image* image, const std::vector<std::string>& lines, const TextStyle& style,
                 Vec2 pen) {
  for (const std::string& line : lines) {
    if (image != nullptr) draw_text(*image, {line, style, pen});
    pen.y() += Font::of(style.weight).line_height(style.size_px);
  }
  return pen.y();
}

std::string value_words(const MeasuringGuide& guide, Measure measure) {
  for (const FaceMeasurement& each : guide.taken) {
    if (each.measure == measure) return fmt::format(": {:.4g} mm", each.value_mm);
  }
  return "";
}

// The list in two columns; without a picture only its height is found.
double put_entries(Image* image, const MeasuringGuide& guide, double top) {
  const auto& entries = words().at("entries");
  constexpr double column_gap = 50;
  constexpr double indent = 46;
  const double width = 0.5 * (guide_width - 2 * guide_margin - column_gap);
  const std::size_t half = (entries.size() + 1) / 2;
  double lowest = top;
  for (const std::size_t column : {0, 1}) {
    const double left = guide_margin + static_cast<double>(column) * (width + column_gap);
    double y = top;
    const std::size_t end = std::min(entries.size(), (column + 1) * half);
    for (std::size_t k = column * half; k < end; ++k) {
      const Measure measure = measure_named(entries[k].at("measure").get<std::string>()).value();
      const std::string name =
          entries[k].at("title").get<std::string>() + value_words(guide, measure);
      if (image != nullptr) draw_number(*image, measure, {left + disc_px, y - 9});
      y = put_lines(image, {name}, entry_style, {left + indent, y});
      y = put_lines(image,
                    wrapped(entries[k].at("how").get<std::string>(), how_style, width - indent, 3),
                    how_style, {left + indent, y - 2});
      y += 16;
    }
    lowest = std::max(lowest, y);
  }
  return lowest;
}

}  // namespace

Image draw_measuring_guide(const MeasuringGuide& guide) {
  const double inner = guide_width - 2 * guide_margin;
  const auto subtitle =
      wrapped(guide.subtitle.empty() ? words().at("subtitle").get<std::string>() : guide.subtitle,
              subtitle_style, inner, 3);
  constexpr double title_base = 96;
  const double face_top = put_lines(nullptr, subtitle, subtitle_style, {guide_margin, 146}) - 14;
  const double face_bottom = face_top + view_height_mm * guide_px_per_mm;
  const double list_top = face_bottom + 44;
  const double list_bottom = put_entries(nullptr, guide, list_top);
  const auto caution = wrapped(words().at("caution").get<std::string>(), caution_style,
                               inner - text_width("Caution", warning_style) - 18, 4);
  const double bottom = put_lines(nullptr, caution, caution_style, {0, list_bottom + 40});
  Image image(guide_width, static_cast<int>(std::ceil(bottom)) + 12, palette::paper);

  put_lines(&image, {words().at("title").get<std::string>()}, title_style,
            {guide_margin, title_base});
  put_lines(&image, subtitle, subtitle_style, {guide_margin, 146});
  const SkinMap skin(guide.landmarks);
  Scene scene;
  scene.skin = &skin;
  scene.chin_end_mm = find_landmark(guide.landmarks, "menton", Side::midline).position_face.y();
  const ColourScale scale(scene.scale_max_mmhg);
  for (const View view : {View::front, View::left}) {
    const bool front = view == View::front;
    const double left = front ? guide_margin : 0.5 * guide_width;
    const Box box{left, face_top, left + 0.5 * inner, face_bottom};
    const Camera camera{.view = view,
                        .px_per_mm = guide_px_per_mm,
                        .centre_px = box.centre(),
                        .centre_sight = {front ? 0 : guide_side_mm, guide_middle_mm}};
    draw_face(image,
              {static_cast<int>(box.left), static_cast<int>(box.top), static_cast<int>(box.right),
               static_cast<int>(box.bottom)},
              scene, camera, scale);
    front ? draw_front(image, guide, camera) : draw_side(image, guide, camera);
  }
  put_entries(&image, guide, list_top);
  const double rule = list_bottom - 4;
  draw_stroke(image, on_page({guide_margin, rule}, {guide_width - guide_margin, rule}),
              {.width_px = 2, .colour = palette::hairline});
  put_lines(&image, {"Caution"}, warning_style, {guide_margin, list_bottom + 40});
  put_lines(&image, caution, caution_style,
            {guide_margin + text_width("Caution", warning_style) + 18, list_bottom + 40});
  return image;
}

MeasureWords measuring_words(Measure measure) {
  const auto& entries = words().at("entries");
  const auto found = std::find_if(entries.begin(), entries.end(), [&](const auto& entry) {
    return entry.at("measure").template get<std::string>() == name_of(measure);
  });
  return {found->at("title").get<std::string>(), found->at("how").get<std::string>()};
}

std::string measuring_guide_words() {
  constexpr std::size_t most_lines = 60;
  FindingLines out(most_lines);
  out.add(FindingLines::always, words().at("subtitle").get<std::string>());
  int n = 0;
  for (const auto& entry : words().at("entries")) {
    const auto name = entry.at("measure").get<std::string>();
    out.add(FindingLines::always,
            fmt::format("{} {} ({}_mm): {}", ++n, entry.at("title").get<std::string>(), name,
                        entry.at("how").get<std::string>()));
  }
  out.add(FindingLines::always, words().at("caution").get<std::string>());
  return out.text();
}

}  // namespace rimload
