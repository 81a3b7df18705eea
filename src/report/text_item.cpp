#include "report/text_item.hpp"

#include <sstream>

namespace rimload {

namespace {
constexpr std::string_view ellipsis = "\u2026";

// Removes the last character of UTF-8 text.
void drop_last(std::string& text) {
  while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0) == 0x80) {
    text.pop_back();
  }
  if (!text.empty()) text.pop_back();
}
}  // namespace

Box TextItem::box() const {
  const Font& font = Font::of(style.weight);
  return {pen.x(), pen.y() - font.ascent(style.size_px), pen.x() + text_width(text, style),
          pen.y() + font.descent(style.size_px)};
}

double text_width(const std::string& text, const TextStyle& style) {
  return Font::of(style.weight).width(text, style.size_px);
}

std::string shortened(const std::string& text, const TextStyle& style, double width_px) {
  if (text_width(text, style) <= width_px) return text;
  std::string kept = text;
  while (!kept.empty()) {
    drop_last(kept);
    while (!kept.empty() && kept.back() == ' ') kept.pop_back();
    const std::string cut = kept + std::string(ellipsis);
    if (text_width(cut, style) <= width_px) return cut;
  }
  return {};
}

std::vector<std::string> wrapped(const std::string& text, const TextStyle& style, double width_px,
                                 std::size_t most_lines) {
  std::vector<std::string> lines;
  std::istringstream words(text);
  std::string line;
  for (std::string word; words >> word;) {
    const std::string longer = line.empty() ? word : line + ' ' + word;
    const bool last_line = lines.size() + 1 >= most_lines;
    if (line.empty() || last_line || text_width(longer, style) <= width_px) {
      line = longer;
    } else {
      lines.push_back(shortened(line, style, width_px));
      line = word;
    }
  }
  if (!line.empty()) lines.push_back(shortened(line, style, width_px));
  return lines;
}

void draw_text(Image& image, const TextItem& item) {
  Font::of(item.style.weight)
      .draw(image, item.text, item.style.size_px, item.pen, item.style.colour);
}

}  // namespace rimload
