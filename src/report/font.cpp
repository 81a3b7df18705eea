#include "report/font.hpp"

#include <cmath>
#include <span>

#include "report_data.hpp"
#include "units/error.hpp"

#define STB_TRUETYPE_IMPLEMENTATION
#define STBTT_STATIC
#include <stb/stb_truetype.h>

namespace rimload {

struct Font::Outlines {
  stbtt_fontinfo info{};
  int ascent = 0;
  int descent = 0;
  int line_gap = 0;
  int cap_height = 0;

  [[nodiscard]] float scale(double size_px) const {
    return stbtt_ScaleForMappingEmToPixels(&info, static_cast<float>(size_px));
  }
  // Calls visit(glyph, pen in font units) for each letter; returns the pen after the last.
  template <typename Visit>
  int walk(std::string_view text, Visit&& visit) const {
    int pen = 0;
    for (const int code : code_points(text)) {
      const int glyph = stbtt_FindGlyphIndex(&info, code);
      visit(glyph, pen);
      int advance = 0;
      stbtt_GetGlyphHMetrics(&info, glyph, &advance, nullptr);
      pen += advance;
    }
    return pen;
  }
};

Font::Font(std::string_view file) : outlines_(std::make_unique<Outlines>()) {
  const auto* bytes = reinterpret_cast<const unsigned char*>(file.data());
  if (stbtt_InitFont(&outlines_->info, bytes, 0) == 0) {
    throw InternalError("the embedded font cannot be read");
  }
  stbtt_GetFontVMetrics(&outlines_->info, &outlines_->ascent, &outlines_->descent,
                        &outlines_->line_gap);
  int left = 0;
  int right = 0;
  int bottom = 0;
  stbtt_GetCodepointBox(&outlines_->info, 'H', &left, &bottom, &right, &outlines_->cap_height);
}

Font::~Font() = default;

const Font& Font::of(Weight weight) {
  static const Font regular(data::OpenSans_Regular_ttf());
  static const Font semibold(data::OpenSans_Semibold_ttf());
  return weight == Weight::regular ? regular : semibold;
}

double Font::width(std::string_view text, double size_px) const {
  return outlines_->walk(text, [](int, int) {}) * outlines_->scale(size_px);
}

double Font::cap_height(double size_px) const {
  return outlines_->cap_height * outlines_->scale(size_px);
}

double Font::line_height(double size_px) const { return 1.3 * size_px; }

double Font::ascent(double size_px) const { return outlines_->ascent * outlines_->scale(size_px); }

double Font::descent(double size_px) const {
  return -outlines_->descent * outlines_->scale(size_px);
}

Glyph Font::glyph(int code_point) const {
  const double em = outlines_->scale(1);
  const stbtt_fontinfo& info = outlines_->info;
  const int index = stbtt_FindGlyphIndex(&info, code_point);
  int advance = 0;
  stbtt_GetGlyphHMetrics(&info, index, &advance, nullptr);
  Glyph out{em * advance, {}};
  stbtt_vertex* corners = nullptr;
  const int n = stbtt_GetGlyphShape(&info, index, &corners);
  for (const stbtt_vertex& corner : std::span(corners, static_cast<std::size_t>(n))) {
    GlyphStep step{GlyphStep::Kind::move, em * Vec2(corner.x, corner.y), Vec2::Zero()};
    if (corner.type == STBTT_vline) step.kind = GlyphStep::Kind::line;
    if (corner.type == STBTT_vcurve) {
      step.kind = GlyphStep::Kind::curve;
      step.control = em * Vec2(corner.cx, corner.cy);
    }
    out.outline.push_back(step);
  }
  stbtt_FreeShape(&info, corners);
  return out;
}

void Font::draw(Image& image, std::string_view text, double size_px, const Vec2& pen,
                Rgb colour) const {
  const float scale = outlines_->scale(size_px);
  // Baselines on whole pixels keep stems crisp; across, letters keep their place to a quarter.
  const int baseline = static_cast<int>(std::lround(pen.y()));
  std::vector<unsigned char> cover;
  outlines_->walk(text, [&](int glyph, int units) {
    const double x = std::round(4 * (pen.x() + units * static_cast<double>(scale))) / 4;
    const auto whole = static_cast<int>(std::floor(x));
    const auto part = static_cast<float>(x - whole);
    int left = 0;
    int top = 0;
    int right = 0;
    int bottom = 0;
    stbtt_GetGlyphBitmapBoxSubpixel(&outlines_->info, glyph, scale, scale, part, 0, &left, &top,
                                    &right, &bottom);
    const int width = right - left;
    const int height = bottom - top;
    if (width <= 0 || height <= 0) return;
    cover.assign(static_cast<std::size_t>(width) * static_cast<std::size_t>(height), 0);
    stbtt_MakeGlyphBitmapSubpixel(&outlines_->info, cover.data(), width, height, width, scale,
                                  scale, part, 0, glyph);
    std::size_t k = 0;
    for (int y = 0; y < height; ++y) {
      for (int i = 0; i < width; ++i, ++k) {
        image.blend(whole + left + i, baseline + top + y, colour,
                    static_cast<float>(cover[k]) / 255.0F);
      }
    }
  });
}

std::vector<int> code_points(std::string_view utf8) {
  constexpr int malformed = 0xFFFD;
  std::vector<int> out;
  std::size_t k = 0;
  while (k < utf8.size()) {
    const auto first = static_cast<unsigned char>(utf8[k++]);
    if (first < 0x80) {
      out.push_back(first);
      continue;
    }
    const int more = first >= 0xF0 ? 3 : first >= 0xE0 ? 2 : 1;
    int code = first & (0x3F >> more);
    bool sound = first >= 0xC2 && first <= 0xF4;
    for (int m = 0; m < more && sound; ++m) {
      sound = k < utf8.size() && (static_cast<unsigned char>(utf8[k]) & 0xC0) == 0x80;
      if (sound) code = code << 6 | (static_cast<unsigned char>(utf8[k++]) & 0x3F);
    }
    out.push_back(sound ? code : malformed);
  }
  return out;
}

}  // namespace rimload
