#include "report/scan_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "report/camera.hpp"
#include "report/finding_lines.hpp"
#include "report/palette.hpp"
#include "report/raster.hpp"
#include "report/stroke.hpp"
#include "report/text_item.hpp"

namespace rimload {

namespace {

constexpr int page_width = 1400;
constexpr double page_margin = 60;
constexpr double scan_px_per_mm = 4;
constexpr double view_tall_mm = 210;
constexpr double view_middle_mm = -33;
constexpr double view_side_mm = 18;
constexpr double tag_px = 15;
constexpr Rgb sure_colour{0, 92, 148};
constexpr Rgb doubt_colour{160, 72, 0};
constexpr Rgb lost_colour{150, 32, 24};
const TextStyle head_style{46, Weight::semibold, palette::ink};
const TextStyle lead_style{26, Weight::regular, palette::soft_ink};
const TextStyle name_style{25, Weight::semibold, palette::ink};
const TextStyle reason_style{22, Weight::regular, palette::soft_ink};
const TextStyle tag_style{19, Weight::semibold, palette::paper};
const TextStyle view_style{23, Weight::regular, palette::soft_ink};
const TextStyle note_style{24, Weight::regular, palette::ink};
const TextStyle warn_style{24, Weight::semibold, palette::alarm};

constexpr const char* lead =
    "Points proposed from the scan's shape alone. Confirm each in this picture before use: move or "
    "leave out what is off, then write \"confirmed\": true in landmarks.json.";
constexpr const char* note =
    "Hair, a beard, a mask or a tube in the scan mislead this. \"Sure\" says that the scan has the "
    "landmark's own shape where the rest of the face expects it; it is no probability. Left and "
    "right are the wearer's.";

Rgb colour_of(Confidence confidence) {
  switch (confidence) {
    case Confidence::sure: return sure_colour;
    case Confidence::look_closely: return doubt_colour;
    case Confidence::not_found: break;
  }
  return lost_colour;
}

void fill_diamond(Image& image, const Vec2& at, double reach, Rgb colour) {
  const int n = static_cast<int>(std::ceil(reach)) + 1;
  const Vec2 middle(std::floor(at.x()), std::floor(at.y()));
  for (int j = -n; j <= n; ++j) {
    for (int i = -n; i <= n; ++i) {
      const Vec2 pixel = middle + Vec2(i + 0.5, j + 0.5);
      const double away = std::abs(pixel.x() - at.x()) + std::abs(pixel.y() - at.y());
      const double cover = std::clamp((reach - away) * std::sqrt(0.5) + 0.5, 0.0, 1.0);
      image.blend(static_cast<int>(std::floor(pixel.x())), static_cast<int>(std::floor(pixel.y())),
                  colour, static_cast<float>(cover));
    }
  }
}

StrokePath segment(const Vec2& a, const Vec2& b) { return {{a.x(), a.y(), 0}, {b.x(), b.y(), 0}}; }

// The number in its shape: disc, diamond or ring.
void draw_tag(Image& image, const Vec2& at, std::size_t number, Confidence confidence) {
  const Rgb colour = colour_of(confidence);
  if (confidence == Confidence::sure) {
    draw_dot(image, at, tag_px + 2, palette::paper);
    draw_dot(image, at, tag_px, colour);
  } else if (confidence == Confidence::look_closely) {
    fill_diamond(image, at, tag_px + 9, palette::paper);
    fill_diamond(image, at, tag_px + 6, colour);
  } else {
    draw_dot(image, at, tag_px + 5, palette::paper);
    draw_dot(image, at, tag_px + 3, colour);
    draw_dot(image, at, tag_px, palette::paper);
  }
  TextStyle style = tag_style;
  if (confidence == Confidence::not_found) style.colour = colour;
  const std::string text = std::to_string(number);
  const double low = 0.5 * Font::of(tag_style.weight).cap_height(tag_style.size_px);
  draw_text(image, {text, style, at + Vec2(-0.5 * text_width(text, tag_style), low)});
}

// Where the number stands, from the point: clear of its neighbours.
Vec2 aside_of(const ProposedLandmark& each, View view) {
  constexpr double away = 44;
  if (each.name == "menton") return {0, away};
  if (view == View::front) {
    if (each.name == "sellion") return {0, -1.4 * away};
    if (each.name == "endocanthion") return {each.side == Side::left ? 12 : -12, -away};
    if (each.name == "stomion") return {0, away};
    if (each.side == Side::midline) return {each.name == "subnasale" ? -away : away, 4};
    return {each.side == Side::left ? away : -away, 0};
  }
  if (each.side == Side::midline) return {-away, 0};
  return each.name == "endocanthion" ? Vec2(0, -away) : Vec2(away, 0);
}

void draw_points(Image& image, const ScanProposal& proposal, const Camera& camera) {
  for (std::size_t k = 0; k < proposal.landmarks.size(); ++k) {
    const ProposedLandmark& each = proposal.landmarks[k];
    if (camera.view == View::left && each.side == Side::right) continue;
    const Vec3 point = proposal.registration.to_face(each.position_scan);
    const Vec2 at = camera.project(point).head<2>();
    const Vec2 tag = at + aside_of(each, camera.view);
    const Rgb colour = colour_of(each.confidence);
    draw_stroke(image, segment(at, tag), {.width_px = 5, .colour = palette::paper, .cover = 0.8});
    draw_stroke(image, segment(at, tag), {.width_px = 2, .colour = colour});
    draw_dot(image, at, 6, palette::paper);
    draw_dot(image, at, 4, colour);
    draw_tag(image, tag, k + 1, each.confidence);
  }
}

// The scan's triangles about the face, lit from above and in front.
RasterLayer scan_layer(const TriangleMesh& skin, const Camera& camera) {
  const Vec3 low(-115, -150, -140);
  const Vec3 high(115, 85, 70);
  const auto inside = [&](const Vec3& v) {
    return (v.array() > low.array()).all() && (v.array() < high.array()).all();
  };
  const std::vector<Vec3> normals = vertex_normals(skin);
  const Vec3 light = (camera.towards_viewer() + Vec3(0, 0.55, 0.35)).normalized();
  RasterLayer layer;
  for (std::size_t k = 0; k < skin.vertices.size(); ++k) {
    const Vec3& v = skin.vertices[k];
    RasterVertex out;
    if (inside(v)) {
      const double lit = std::pow(std::max(0.0, 0.5 + 0.5 * normals[k].dot(light)), 1.6);
      const Vec3 lab(0.36 + 0.58 * lit, 0.015 - 0.008 * lit, 0.028 - 0.014 * lit);
      out.colour = with_cover(rgb_from_linear(linear_from_oklab(lab)), 1);
      const Vec3 at = camera.project(v);
      out.x = static_cast<float>(at.x());
      out.y = static_cast<float>(at.y());
      out.z = static_cast<float>(at.z());
    }
    layer.vertices.push_back(out);
  }
  for (const auto& t : skin.triangles) {
    if (!inside(skin.vertices[t[0]]) || !inside(skin.vertices[t[1]]) ||
        !inside(skin.vertices[t[2]])) {
      continue;
    }
    layer.triangles.push_back(
        {static_cast<int>(t[0]), static_cast<int>(t[1]), static_cast<int>(t[2])});
  }
  return layer;
}

double lines_down(Image* image, const std::vector<std::string>& lines, const TextStyle& style,
                  Vec2 pen) {
  for (const std::string& line : lines) {
    if (image != nullptr) draw_text(*image, {line, style, pen});
    pen.y() += Font::of(style.weight).line_height(style.size_px);
  }
  return pen.y();
}

std::string label_of(const ProposedLandmark& each) {
  return each.side == Side::midline ? each.name
                                    : fmt::format("{} ({})", each.name, name_of(each.side));
}

// The list in two columns; without a picture only its height is found.
double list_down(Image* image, const ScanProposal& proposal, double top) {
  constexpr double indent = 58;
  const double width = 0.5 * (page_width - 2 * page_margin - 50);
  const std::size_t half = (proposal.landmarks.size() + 1) / 2;
  double lowest = top;
  double y = top;
  for (std::size_t k = 0; k < proposal.landmarks.size(); ++k) {
    if (k == half) y = top;
    const double left = page_margin + (k < half ? 0 : width + 50);
    const ProposedLandmark& each = proposal.landmarks[k];
    if (image != nullptr) draw_tag(*image, {left + 24, y - 2}, k + 1, each.confidence);
    const std::string name = label_of(each) + ": ";
    if (image != nullptr) {
      TextStyle style = name_style;
      style.colour = colour_of(each.confidence);
      const Vec2 pen(left + indent + text_width(name, name_style), y);
      draw_text(*image, {std::string(name_of(each.confidence)), style, pen});
    }
    y = lines_down(image, {name}, name_style, {left + indent, y});
    y = lines_down(image, wrapped(each.reason, reason_style, width - indent, 3), reason_style,
                   {left + indent, y - 4});
    y += 18;
    lowest = std::max(lowest, y);
  }
  return lowest;
}

}  // namespace

Image draw_scan_page(const TriangleMesh& scan, const ScanProposal& proposal) {
  const double inner = page_width - 2 * page_margin;
  const auto lead_lines = wrapped(lead, lead_style, inner, 3);
  const double views_top = lines_down(nullptr, lead_lines, lead_style, {0, 146}) + 36;
  const double views_bottom = views_top + view_tall_mm * scan_px_per_mm;
  const double list_top = views_bottom + 50;
  const double list_bottom = list_down(nullptr, proposal, list_top);
  const double warn_width = text_width("Caution", warn_style) + 18;
  const auto note_lines = wrapped(note, note_style, inner - warn_width, 4);
  const double bottom = lines_down(nullptr, note_lines, note_style, {0, list_bottom + 36});
  Image image(page_width, static_cast<int>(std::ceil(bottom)) + 14, palette::paper);
  lines_down(&image, {"Landmarks proposed on a scan"}, head_style, {page_margin, 96});
  lines_down(&image, lead_lines, lead_style, {page_margin, 146});

  TriangleMesh skin = scan;
  for (Vec3& v : skin.vertices) v = proposal.registration.to_face(v);
  if (proposal.inside_out) {
    for (auto& t : skin.triangles) std::swap(t[1], t[2]);
  }
  for (const View view : {View::front, View::left}) {
    const bool front = view == View::front;
    const double left = front ? page_margin : 0.5 * page_width;
    const Box box{left, views_top, left + 0.5 * inner, views_bottom};
    const Camera camera{.view = view,
                        .px_per_mm = scan_px_per_mm,
                        .centre_px = box.centre(),
                        .centre_sight = {front ? 0 : view_side_mm, view_middle_mm}};
    const std::array layers{scan_layer(skin, camera)};
    static_cast<void>(draw_layers(image,
                                  {static_cast<int>(box.left), static_cast<int>(box.top),
                                   static_cast<int>(box.right), static_cast<int>(box.bottom)},
                                  layers));
    draw_points(image, proposal, camera);
    draw_text(image, {front ? "From the front" : "From the wearer's left",
                      view_style,
                      {box.left, views_top - 16}});
  }
  list_down(&image, proposal, list_top);
  const double rule = list_bottom - 8;
  draw_stroke(image, segment({page_margin, rule}, {page_width - page_margin, rule}),
              {.width_px = 2, .colour = palette::hairline});
  lines_down(&image, {"Caution"}, warn_style, {page_margin, list_bottom + 36});
  lines_down(&image, note_lines, note_style, {page_margin + warn_width, list_bottom + 36});
  return image;
}

std::string scan_words(const ScanMesh& scan, const ScanProposal& proposal) {
  constexpr std::size_t most_lines = 60;
  FindingLines out(most_lines);
  const ScanRegistration& laid = proposal.registration;
  out.add(
      FindingLines::always,
      fmt::format("A face is found. The scan's unit {} {}; the face is {:.2f} times as large as "
                  "the reference, which lies {:.1f} mm (RMS) from it once brought to that size.",
                  laid.unit_inferred ? "is taken to be" : "was given as", name_of(laid.unit),
                  laid.size, proposal.model_rms_mm));
  if (scan.n_pieces > 1) {
    out.add(FindingLines::always,
            fmt::format("Of {} pieces the largest was kept; {:.1f} % of the area was dropped.",
                        scan.n_pieces, 100 * scan.dropped_share));
  }
  int n = 0;
  for (const ProposedLandmark& each : proposal.landmarks) {
    out.add(FindingLines::always, fmt::format("{} {}: {} ({})", ++n, label_of(each),
                                              name_of(each.confidence), each.reason));
  }
  out.add(FindingLines::always, lead);
  out.add(FindingLines::always, note);
  return out.text();
}

}  // namespace rimload
