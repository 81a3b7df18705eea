#include "report/template_drawing.hpp"

#include <algorithm>

#include "fit/caution.hpp"
#include "report/inner_room.hpp"
#include "report/text_item.hpp"

namespace rimload {

namespace {

constexpr Rgb wedge_grey{222, 224, 227};

VectorPath laid(VectorPath stroke, const std::vector<Vec2>& points, const PiecePose& pose) {
  for (const Vec2& point : points) stroke.points.push_back(pose(point));
  return stroke;
}

// Points along lines, close enough together that nothing is written across.
std::vector<Vec2> along(const TemplatePiece& piece) {
  constexpr double step_mm = 0.5;
  std::vector<Vec2> out;
  const auto add = [&](const std::vector<Vec2>& line) {
    for (std::size_t k = 0; k + 1 < line.size(); ++k) {
      const Vec2 way = line[k + 1] - line[k];
      const double n = std::ceil(way.norm() / step_mm);
      for (double i = 0; i < n; ++i) out.emplace_back(line[k] + i / n * way);
    }
  };
  add(piece.midline);
  for (const TemplateCut& cut : piece.cuts) {
    add(cut.left);
    add(cut.right);
    // And the wedge's mouth.
    add({cut.left.front(), cut.right.front()});
  }
  return out;
}

// Number and name beside an arrow, at one scale.
class Label {
 public:
  Label(const TemplatePiece& piece, std::size_t number, double scale, bool with_name)
      : scale_(scale) {
    add(std::to_string(number), 4.4, Weight::semibold, palette::ink);
    if (!with_name) return;
    const TextStyle style{.size_px = 2.6 * scale};
    for (const std::string& line : wrapped(place_words(piece.site), style, 15 * scale, 3)) {
      add(line, 2.6, Weight::regular, palette::ink);
    }
    add("outer face", 2.2, Weight::regular, palette::soft_ink);
  }

  [[nodiscard]] Vec2 size() const {
    return {text_left() + width_, std::max(height_, scale_ * arrow_mm)};
  }

  void draw(VectorPage& page, const Vec2& middle, const PiecePose& pose) const {
    const Vec2 corner = middle + Vec2(-0.5, 0.5).cwiseProduct(size());  // upper left
    draw_arrow(page, corner, pose);
    double down = 0.5 * (size().y() - height_);
    for (VectorText line : lines_) {
      down += spacing * line.size_mm;
      // The last line's letters reach below its baseline.
      line.pen = pose(corner + Vec2(text_left(), 0.25 * line.size_mm - down));
      line.turn_rad = pose.turn_rad;
      page.marks.emplace_back(std::move(line));
    }
  }

 private:
  static constexpr double spacing = 1.2;
  static constexpr double arrow_mm = 8;

  void add(std::string text, double size, Weight weight, Rgb colour) {
    lines_.push_back({std::move(text), scale_ * size, weight, colour, {}, 0});
    width_ = std::max(width_, lines_.back().width());
    height_ += spacing * lines_.back().size_mm;
  }
  [[nodiscard]] double text_left() const { return 4 * scale_; }

  void draw_arrow(VectorPage& page, const Vec2& corner, const PiecePose& pose) const {
    const double length = scale_ * arrow_mm;
    const double x = corner.x() + 1.3 * scale_;
    const double top = corner.y() - 0.5 * (size().y() - length);
    page.marks.emplace_back(
        laid({.width_mm = 0.5 * scale_}, {{x, top - length}, {x, top - 2 * scale_}}, pose));
    VectorPath head{.closed = true, .width_mm = 0, .fill = palette::ink};
    page.marks.emplace_back(laid(
        head,
        {{x, top}, {x - 1.2 * scale_, top - 2.6 * scale_}, {x + 1.2 * scale_, top - 2.6 * scale_}},
        pose));
  }

  double scale_;
  std::vector<VectorText> lines_;
  double width_ = 0;
  double height_ = 0;
};

void draw_label(VectorPage& page, const TemplatePiece& piece, std::size_t number,
                const PiecePose& pose, InnerRoom& room) {
  for (const bool with_name : {true, false}) {
    for (const double scale : {1.0, 0.9, 0.8, 0.7}) {
      const Label label(piece, number, scale, with_name);
      const auto middle = room.box(label.size());
      if (!middle) continue;
      label.draw(page, *middle, pose);
      room.take(*middle, label.size());
      return;
    }
  }
}

void draw_sides(VectorPage& page, const PiecePose& pose, InnerRoom& room) {
  constexpr double size = 2.6;
  constexpr double clear = 1.7;
  for (const auto& [letter, direction] : {std::pair{"R", -1.0}, std::pair{"L", 1.0}}) {
    const auto spot = room.farthest({direction, 0}, clear);
    if (!spot) continue;
    VectorText text{letter, size, Weight::semibold, palette::soft_ink, {}, pose.turn_rad};
    text.pen = pose(*spot - 0.5 * Vec2(text.width(), Font::of(text.weight).cap_height(size)));
    page.marks.emplace_back(std::move(text));
    room.take(*spot, {2, 2});
  }
}

}  // namespace

VectorPath cut_stroke() { return {.width_mm = 0.4}; }
VectorPath slit_stroke() { return {.width_mm = 0.4, .colour = palette::alarm}; }
VectorPath wedge_fill() { return {.closed = true, .width_mm = 0, .fill = wedge_grey}; }
VectorPath midline_stroke() { return {.width_mm = 0.2, .colour = palette::leader, .dash_mm = 1}; }

void draw_piece(VectorPage& page, const TemplatePiece& piece, std::size_t number,
                const PiecePose& pose) {
  for (const TemplateCut& cut : piece.cuts) {
    if (cut.wedge_mm == 0) continue;
    std::vector<Vec2> wedge = cut.left;
    wedge.insert(wedge.end(), cut.right.rbegin(), cut.right.rend());
    page.marks.emplace_back(laid(wedge_fill(), wedge, pose));
  }
  page.marks.emplace_back(laid(midline_stroke(), piece.midline, pose));
  VectorPath outline = cut_stroke();
  outline.closed = true;
  page.marks.emplace_back(laid(std::move(outline), piece.outline, pose));
  for (const TemplateCut& cut : piece.cuts) {
    page.marks.emplace_back(laid(slit_stroke(), cut.left, pose));
    if (cut.wedge_mm > 0) page.marks.emplace_back(laid(slit_stroke(), cut.right, pose));
  }
  InnerRoom room(piece.outline, along(piece));
  draw_label(page, piece, number, pose, room);
  draw_sides(page, pose, room);
}

}  // namespace rimload
