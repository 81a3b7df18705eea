#include "report/chart_ink.hpp"

namespace rimload {

void put(Image& image, const std::string& text, const TextStyle& style, Vec2 pen) {
  draw_text(image, {text, style, pen});
}

void put_right(Image& image, const std::string& text, const TextStyle& style, Vec2 pen) {
  put(image, text, style, {pen.x() - text_width(text, style), pen.y()});
}

void put_centred(Image& image, const std::string& text, const TextStyle& style, Vec2 pen) {
  put(image, text, style, {pen.x() - 0.5 * text_width(text, style), pen.y()});
}

void draw_line(Image& image, Vec2 from, Vec2 to, const Stroke& stroke) {
  draw_stroke(image, {Vec3(from.x(), from.y(), 0), Vec3(to.x(), to.y(), 0)}, stroke);
}

}  // namespace rimload
