// Text written downwards on a page.
#pragma once

#include <string>

#include "report/text_item.hpp"
#include "report/vector_page.hpp"

namespace rimload {

/// Writes lines below one another. A pixel of a text's style is a millimetre here. Refers to the
/// page.
class PageColumn {
 public:
  PageColumn(VectorPage& page, const Vec2& top_left, double width)
      : page_(page), at_(top_left), width_(width) {}

  void write(const std::string& text, const TextStyle& style, std::size_t most_lines) {
    for (const std::string& line : wrapped(text, style, width_, most_lines)) {
      at_.y() += 1.3 * style.size_px;
      page_.marks.emplace_back(VectorText{line, style.size_px, style.weight, style.colour, at_, 0});
    }
  }
  void space(double mm) { at_.y() += mm; }
  [[nodiscard]] const Vec2& at() const { return at_; }

 private:
  VectorPage& page_;
  Vec2 at_;
  double width_;
};

}  // namespace rimload
