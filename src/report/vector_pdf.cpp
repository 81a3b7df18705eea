#include "report/vector_pdf.hpp"

#include <cairo-pdf.h>

#include <array>
#include <memory>

#include "units/error.hpp"

namespace rimload {

namespace {

constexpr double point_mm = 25.4 / 72;
constexpr const char* creation_date = "2000-01-01T00:00:00Z";

struct Destroy {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* context) const { cairo_destroy(context); }
  void operator()(cairo_font_face_t* face) const { cairo_font_face_destroy(face); }
};
using Surface = std::unique_ptr<cairo_surface_t, Destroy>;
using Context = std::unique_ptr<cairo_t, Destroy>;
using Face = std::unique_ptr<cairo_font_face_t, Destroy>;

// The embedded font's letters, as a font of cairo's own kind: no system font comes into play, and
// the text stays text.
const cairo_user_data_key_t font_key{};

cairo_status_t draw_letter(cairo_scaled_font_t* scaled, unsigned long code, cairo_t* context,
                           cairo_text_extents_t* extents) {
  const auto* font = static_cast<const Font*>(
      cairo_font_face_get_user_data(cairo_scaled_font_get_font_face(scaled), &font_key));
  const Glyph glyph = font->glyph(static_cast<int>(code));
  Vec2 pen = Vec2::Zero();
  for (const GlyphStep& step : glyph.outline) {
    const Vec2 to(step.to.x(), -step.to.y());
    switch (step.kind) {
      case GlyphStep::Kind::move: cairo_move_to(context, to.x(), to.y()); break;
      case GlyphStep::Kind::line: cairo_line_to(context, to.x(), to.y()); break;
      case GlyphStep::Kind::curve: {
        // A quadratic curve as a cubic one.
        const Vec2 control(step.control.x(), -step.control.y());
        const Vec2 a = pen + 2.0 / 3 * (control - pen);
        const Vec2 b = to + 2.0 / 3 * (control - to);
        cairo_curve_to(context, a.x(), a.y(), b.x(), b.y(), to.x(), to.y());
        break;
      }
    }
    pen = to;
  }
  cairo_fill(context);
  extents->x_advance = glyph.advance;
  return CAIRO_STATUS_SUCCESS;
}

Face face_of(Weight weight) {
  Face face(cairo_user_font_face_create());
  cairo_user_font_face_set_render_glyph_func(face.get(), draw_letter);
  // Cairo hands the pointer back as it is; the font is never written to.
  auto* font =
      const_cast<Font*>(&Font::of(weight));  // NOLINT(cppcoreguidelines-pro-type-const-cast)
  cairo_font_face_set_user_data(face.get(), &font_key, font, nullptr);
  return face;
}

class Pen {
 public:
  explicit Pen(cairo_t* context) : context_(context) {}

  void operator()(const VectorPath& path) const {
    cairo_new_path(context_);
    for (const Vec2& point : path.points) cairo_line_to(context_, point.x(), point.y());
    if (path.closed) cairo_close_path(context_);
    if (path.fill) {
      use(*path.fill);
      cairo_fill_preserve(context_);
    }
    if (path.width_mm > 0) {
      use(path.colour);
      cairo_set_line_width(context_, path.width_mm);
      cairo_set_line_join(context_, CAIRO_LINE_JOIN_ROUND);
      const std::array<double, 1> dash{path.dash_mm};
      cairo_set_dash(context_, dash.data(), path.dash_mm > 0 ? 1 : 0, 0);
      cairo_stroke_preserve(context_);
    }
    cairo_new_path(context_);
  }

  void operator()(const VectorText& text) const {
    cairo_save(context_);
    cairo_translate(context_, text.pen.x(), text.pen.y());
    cairo_rotate(context_, -text.turn_rad);
    use(text.colour);
    cairo_set_font_face(context_, faces_[text.weight == Weight::regular ? 0 : 1].get());
    cairo_set_font_size(context_, text.size_mm);
    cairo_move_to(context_, 0, 0);
    cairo_show_text(context_, text.text.c_str());
    cairo_restore(context_);
  }

 private:
  void use(Rgb colour) const {
    cairo_set_source_rgb(context_, colour.r / 255.0, colour.g / 255.0, colour.b / 255.0);
  }

  cairo_t* context_;
  std::array<Face, 2> faces_{face_of(Weight::regular), face_of(Weight::semibold)};
};

cairo_status_t append(void* text, const unsigned char* bytes, unsigned int count) {
  static_cast<std::string*>(text)->append(reinterpret_cast<const char*>(bytes), count);
  return CAIRO_STATUS_SUCCESS;
}

}  // namespace

std::string pdf_of(std::span<const VectorPage> pages, const std::string& title) {
  std::string out;
  const Surface surface(cairo_pdf_surface_create_for_stream(append, &out, 1, 1));
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, creation_date);
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
  {
    const Context context(cairo_create(surface.get()));
    const Pen pen(context.get());
    for (const VectorPage& page : pages) {
      cairo_pdf_surface_set_size(surface.get(), page.width_mm / point_mm,
                                 page.height_mm / point_mm);
      cairo_save(context.get());
      cairo_scale(context.get(), 1 / point_mm, 1 / point_mm);
      for (const auto& mark : page.marks) std::visit(pen, mark);
      cairo_restore(context.get());
      cairo_show_page(context.get());
    }
  }
  cairo_surface_finish(surface.get());
  const cairo_status_t status = cairo_surface_status(surface.get());
  if (status != CAIRO_STATUS_SUCCESS) {
    throw InternalError(std::string("the PDF cannot be written: ") +
                        cairo_status_to_string(status));
  }
  return out;
}

}  // namespace rimload
