// Pieces of text with their place on a page.
#pragma once

#include <string>
#include <vector>

#include "report/font.hpp"
#include "report/palette.hpp"

namespace rimload {

/// How text looks.
struct TextStyle {
  double size_px = 24;
  Weight weight = Weight::regular;
  Rgb colour = palette::ink;
};

/// One line of text at its place.
struct TextItem {
  std::string text;
  TextStyle style;
  Vec2 pen = Vec2::Zero();  ///< left end of the baseline [px]

  /// From the font's highest to its lowest letter and over the text's width.
  [[nodiscard]] Box box() const;
};

[[nodiscard]] double text_width(const std::string& text, const TextStyle& style);

/// Text broken at spaces into lines no wider than `width_px`; at most `most_lines`, what does not
/// fit is cut and marked with an ellipsis. A single word that is too wide is cut as well.
[[nodiscard]] std::vector<std::string> wrapped(const std::string& text, const TextStyle& style,
                                               double width_px, std::size_t most_lines);

/// The text, or as much of it as fits before an ellipsis.
[[nodiscard]] std::string shortened(const std::string& text, const TextStyle& style,
                                    double width_px);

void draw_text(Image& image, const TextItem& item);

}  // namespace rimload
