#include "report/vector_page.hpp"

#include <fmt/format.h>

#include <numbers>

namespace rimload {

namespace {

std::string escaped(const std::string& text) {
  std::string out;
  for (const char each : text) {
    switch (each) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      default: out += each;
    }
  }
  return out;
}

std::string hex(Rgb colour) {
  return fmt::format("#{:02x}{:02x}{:02x}", colour.r, colour.g, colour.b);
}

// Thousandths of a millimetre.
std::string place(const Vec2& at) { return fmt::format("{:.3f} {:.3f}", at.x(), at.y()); }

void write(const VectorPath& path, std::string& out) {
  out += "<path d=\"";
  char step = 'M';
  for (const Vec2& point : path.points) {
    out += step + place(point);
    step = 'L';
  }
  if (path.closed) out += 'Z';
  out += fmt::format("\" fill=\"{}\"", path.fill ? hex(*path.fill) : "none");
  if (path.width_mm > 0) {
    out += fmt::format(" stroke=\"{}\" stroke-width=\"{:g}\"", hex(path.colour), path.width_mm);
    out += " stroke-linejoin=\"round\"";
    if (path.dash_mm > 0) out += fmt::format(" stroke-dasharray=\"{:g}\"", path.dash_mm);
  }
  out += "/>\n";
}

void write(const VectorText& text, std::string& out) {
  constexpr double degrees = 180 / std::numbers::pi;
  out += fmt::format("<text x=\"{:.3f}\" y=\"{:.3f}\" font-size=\"{:g}\" fill=\"{}\"", text.pen.x(),
                     text.pen.y(), text.size_mm, hex(text.colour));
  if (text.weight == Weight::semibold) out += " font-weight=\"600\"";
  out += fmt::format(" textLength=\"{:.3f}\" lengthAdjust=\"spacingAndGlyphs\"", text.width());
  if (text.turn_rad != 0) {
    out +=
        fmt::format(" transform=\"rotate({:.3f} {})\"", -degrees * text.turn_rad, place(text.pen));
  }
  out += ">" + escaped(text.text) + "</text>\n";
}

}  // namespace

std::string svg_of(const VectorPage& page, const std::string& title) {
  std::string out = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:g}mm\" height=\"{1:g}mm\" "
      "viewBox=\"0 0 {0:g} {1:g}\" font-family=\"'Open Sans', sans-serif\" role=\"img\">\n"
      "<title>{2}</title>\n<rect width=\"{0:g}\" height=\"{1:g}\" fill=\"{3}\"/>\n",
      page.width_mm, page.height_mm, escaped(title), hex(palette::paper));
  for (const auto& mark : page.marks) {
    std::visit([&](const auto& each) { write(each, out); }, mark);
  }
  return out + "</svg>\n";
}

}  // namespace rimload
