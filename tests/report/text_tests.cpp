#include "catch.hpp"
#include "report/text_item.hpp"

namespace rimload {
namespace {

const TextStyle plain{24, Weight::regular, palette::ink};

// The smallest box around everything that is not paper.
Box inked_box(const Image& image) {
  Box box{1e9, 1e9, -1e9, -1e9};
  for (int y = 0; y < image.height; ++y) {
    for (int x = 0; x < image.width; ++x) {
      if (image.at(x, y) == palette::paper) continue;
      box = {std::min(box.left, 1.0 * x), std::min(box.top, 1.0 * y), std::max(box.right, x + 1.0),
             std::max(box.bottom, y + 1.0)};
    }
  }
  return box;
}

TEST_CASE("Text is as wide as the font's tables say") {
  // Open Sans: 2048 units to the em, a digit is 1171 wide (read from its hmtx table).
  CHECK(Font::of(Weight::regular).width("0", 2048) == Approx(1171).margin(0.5));
  CHECK(Font::of(Weight::regular).width("000", 24) == Approx(3 * 1171 * 24 / 2048.0).margin(1e-3));
  CHECK(Font::of(Weight::regular).width("", 24) == 0);
  CHECK(Font::of(Weight::semibold).width("pressure", 24) > text_width("pressure", plain));
}

TEST_CASE("Drawn letters stay in the box that was promised") {
  Image image(300, 80, palette::paper);
  const TextItem item{"Hjg 71 mmHg\u00b7", plain, {20, 50}};
  draw_text(image, item);
  const Box ink = inked_box(image);
  const Box promised = item.box();
  CHECK(promised.holds(ink));
  CHECK(ink.width() > 0.95 * promised.width());
  // H stands on the baseline, and is as high as the font says.
  Image capital(60, 80, palette::paper);
  draw_text(capital, {"H", plain, {20, 50}});
  CHECK(inked_box(capital).bottom == 50);
  CHECK(50 - inked_box(capital).top == Approx(Font::of(Weight::regular).cap_height(24)).margin(1));
}

TEST_CASE("Text outside the picture is cut, not written elsewhere") {
  Image image(40, 40, palette::paper);
  draw_text(image, {"mmHg", plain, {-30, 30}});
  draw_text(image, {"mmHg", plain, {35, 30}});
  draw_text(image, {"mmHg", plain, {5, -30}});
  CHECK(inked_box(image).width() > 0);
}

TEST_CASE("A letter's outline stands on the baseline and is as high and wide as the font says") {
  const Font& font = Font::of(Weight::regular);
  const Glyph glyph = font.glyph('H');
  CHECK(glyph.advance == Approx(font.width("H", 1)));
  REQUIRE(glyph.outline.size() > 10);  // two stems and a bar
  CHECK(glyph.outline.front().kind == GlyphStep::Kind::move);
  double low = 1;
  double high = 0;
  for (const GlyphStep& step : glyph.outline) {
    low = std::min(low, step.to.y());
    high = std::max(high, step.to.y());
    CHECK(step.to.x() > 0);
    CHECK(step.to.x() < glyph.advance);
  }
  CHECK(low == 0);
  CHECK(high == Approx(font.cap_height(1)));
  CHECK(font.glyph(' ').outline.empty());
}

TEST_CASE("Lines are broken at spaces, within the width, and no word is lost") {
  const std::string text = "one two three four five six seven eight nine ten eleven twelve";
  const auto lines = wrapped(text, plain, 200, 10);
  std::string joined;
  for (const std::string& line : lines) {
    CHECK(text_width(line, plain) <= 200);
    joined += (joined.empty() ? "" : " ") + line;
  }
  CHECK(lines.size() > 2);
  CHECK(joined == text);
}

TEST_CASE("What does not fit ends in an ellipsis") {
  const auto lines = wrapped("one two three four five six seven eight", plain, 120, 2);
  REQUIRE(lines.size() == 2);
  CHECK(text_width(lines[1], plain) <= 120);
  CHECK(lines[1].substr(lines[1].size() - 3) == "\u2026");
  const std::string word = shortened("unbreakable\u00e9\u00e9\u00e9", plain, 100);
  CHECK(text_width(word, plain) <= 100);
  for (const int code : code_points(word)) CHECK(code != 0xFFFD);  // no half letters
}

TEST_CASE("Malformed UTF-8 becomes the replacement character") {
  CHECK(code_points("a\xC3\xA9\xE2\x80\xA6") == std::vector<int>{'a', 0xE9, 0x2026});
  CHECK(code_points("\xC3") == std::vector<int>{0xFFFD});
  CHECK(code_points("\xC3z") == std::vector<int>{0xFFFD, 'z'});
  CHECK(code_points("\x80\xFFz") == std::vector<int>{0xFFFD, 0xFFFD, 'z'});
}

}  // namespace
}  // namespace rimload
