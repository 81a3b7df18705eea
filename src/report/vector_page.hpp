// A printed page as lines and text, before it becomes PDF or SVG.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "geometry/vec.hpp"
#include "report/font.hpp"
#include "report/palette.hpp"

namespace rimload {

/// Lengths in mm from the page's upper left corner, y downwards.
struct VectorPath {
  std::vector<Vec2> points = {};
  bool closed = false;
  double width_mm = 0.3;  ///< of the line; 0: none
  Rgb colour = palette::ink;
  double dash_mm = 0;  ///< dashes and gaps of this length; 0: a solid line
  std::optional<Rgb> fill = {};
};

struct VectorText {
  std::string text = {};  ///< one line of UTF-8
  double size_mm = 3;
  Weight weight = Weight::regular;
  Rgb colour = palette::ink;
  Vec2 pen = Vec2::Zero();  ///< left end of the baseline
  double turn_rad = 0;      ///< counter-clockwise on the paper, about the pen

  /// How far the pen moves [mm].
  [[nodiscard]] double width() const { return Font::of(weight).width(text, size_mm); }
};

struct VectorPage {
  double width_mm = 0;
  double height_mm = 0;
  std::vector<std::variant<VectorPath, VectorText>> marks;  ///< later ones over earlier ones
};

/// The page as SVG whose units are millimetres, at its true size; text stays text, held to the
/// width it has in Open Sans.
/// @param title for those who can't see it
[[nodiscard]] std::string svg_of(const VectorPage& page, const std::string& title);

}  // namespace rimload
