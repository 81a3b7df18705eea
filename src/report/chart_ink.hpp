// Words and lines of charts.
#pragma once

#include <string>

#include "report/image.hpp"
#include "report/stroke.hpp"
#include "report/text_item.hpp"

namespace rimload {

/// One line of text from its pen, ending at it, or centred on it.
void put(Image& image, const std::string& text, const TextStyle& style, Vec2 pen);
void put_right(Image& image, const std::string& text, const TextStyle& style, Vec2 pen);
void put_centred(Image& image, const std::string& text, const TextStyle& style, Vec2 pen);

/// A straight line on the page.
void draw_line(Image& image, Vec2 from, Vec2 to, const Stroke& stroke);

}  // namespace rimload
