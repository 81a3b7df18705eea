// Letters from an outline font.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "report/image.hpp"

namespace rimload {

enum class Weight { regular, semibold };

/// A step of a letter's outline, in em with y upwards, from where the last one ended.
struct GlyphStep {
  enum class Kind { move, line, curve };
  Kind kind = Kind::move;
  Vec2 to = Vec2::Zero();
  Vec2 control = Vec2::Zero();  ///< of a curve, a quadratic Bezier
};
struct Glyph {
  double advance = 0;  ///< of the pen [em]
  std::vector<GlyphStep> outline;
};

/// Open Sans (Apache-2.0), embedded at build from the system's package.
/// Sizes are of the em square in pixels; text is UTF-8, and what the font lacks shows as a box.
class Font {
 public:
  /// The one font of each weight.
  [[nodiscard]] static const Font& of(Weight weight);

  /// How far the pen moves over the text [px].
  [[nodiscard]] double width(std::string_view text, double size_px) const;
  /// Height of a capital letter above the baseline [px].
  [[nodiscard]] double cap_height(double size_px) const;
  /// Baseline to baseline [px].
  [[nodiscard]] double line_height(double size_px) const;
  /// Highest above and lowest below the baseline that any letter needs [px].
  [[nodiscard]] double ascent(double size_px) const;
  [[nodiscard]] double descent(double size_px) const;

  /// The letter of a code point.
  [[nodiscard]] Glyph glyph(int code_point) const;

  /// Draws text whose pen starts at x on the baseline.
  void draw(Image& image, std::string_view text, double size_px, const Vec2& pen, Rgb colour) const;

  Font(const Font&) = delete;
  Font(Font&&) = delete;
  Font& operator=(const Font&) = delete;
  Font& operator=(Font&&) = delete;
  ~Font();

 private:
  explicit Font(std::string_view file);
  struct Outlines;
  std::unique_ptr<Outlines> outlines_;
};

/// The code points of UTF-8 text; a malformed byte becomes U+FFFD.
[[nodiscard]] std::vector<int> code_points(std::string_view utf8);

}  // namespace rimload
