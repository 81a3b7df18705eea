#include "report/template_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "fit/caution.hpp"
#include "report/check_bar.hpp"
#include "report/finding_cautions.hpp"
#include "report/page_column.hpp"
#include "report/template_drawing.hpp"
#include "report/text_item.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

constexpr double page_margin = 12;
constexpr double head_height = 60;      // title, bar, how to read the page
constexpr double words_height = 62;     // the pieces in words, beneath the sheet
constexpr double foot_height = 15;      // cautions
constexpr std::size_t most_pieces = 8;  // as many as there is room for their words

Vec2 size_of(Paper paper) { return paper == Paper::a4 ? Vec2(210, 297) : Vec2(215.9, 279.4); }

Vec2 room_for_sheet(Paper paper) {
  return size_of(paper) -
         Vec2(2 * page_margin, 2 * page_margin + head_height + words_height + foot_height);
}

// As much of the sheet as the paper holds.
SheetSold sheet_in_use(const TemplatePrint& print) {
  const Vec2 room = room_for_sheet(print.paper);
  SheetSold out = print.sheet;
  out.length_mm = std::min(out.length_mm, std::floor(room.x()));
  out.width_mm = std::min(out.width_mm, std::floor(room.y()));
  return out;
}

std::string percent_words(double share) { return fmt::format("{:.0f} %", std::ceil(100 * share)); }

std::string size_words(const TemplatePiece& piece) {
  const Vec2 size = extent_of(piece.outline).size();
  return fmt::format("{:.0f} x {:.0f} mm", size.x(), size.y());
}

std::string cut_words(const TemplateCut& cut) {
  const std::string where =
      cut.under_rim ? "; it reaches under the rim: see that it lies smooth there." : ".";
  if (cut.wedge_mm > 0) {
    return fmt::format(" Dart {:.0f} mm long: cut away its wedge of {:.1f} mm, close it{}",
                       cut.length_mm, cut.wedge_mm, where);
  }
  return fmt::format(" Slit {:.0f} mm long: opens by {:.1f} mm on the skin{}", cut.length_mm,
                     cut.gap_mm, where);
}

std::string piece_words(const TemplatePiece& piece, const CutRule& rule) {
  std::string out =
      fmt::format("To lie on the skin it must stretch by up to {} and shorten by up to {}.",
                  percent_words(piece.stretch.stretch), percent_words(piece.stretch.shortening));
  if (!piece.lies_flat) {
    out += fmt::format(
        " That is above {:g} %: it may pull or crease; take a softer dressing or "
        "smaller pieces.",
        100 * rule.stretch_limit);
  }
  for (const TemplateCut& cut : piece.cuts) out += cut_words(cut);
  return out;
}

// On these pages a pixel of a text's style is a millimetre.
const TextStyle title_text{6, Weight::semibold, palette::ink};
const TextStyle body_text{3, Weight::regular, palette::ink};
const TextStyle soft_text{3, Weight::regular, palette::soft_ink};
const TextStyle bold_text{3, Weight::semibold, palette::ink};
const TextStyle template_small_text{2.7, Weight::regular, palette::ink};
const TextStyle small_bold{2.9, Weight::semibold, palette::ink};

void draw_key(VectorPage& page, Vec2 at) {
  constexpr double sample_mm = 8;
  const auto entry = [&](VectorPath stroke, const std::string& words) {
    if (stroke.fill) {
      stroke.points = {at + Vec2(0, -2.2), at + Vec2(sample_mm, -2.2), at + Vec2(sample_mm, 0), at};
    } else {
      stroke.points = {at + Vec2(0, -0.9), at + Vec2(sample_mm, -0.9)};
    }
    page.marks.emplace_back(std::move(stroke));
    VectorText text{words, 2.7, Weight::regular, palette::ink, at + Vec2(sample_mm + 1.5, 0), 0};
    at.x() += sample_mm + text.width() + 6;
    page.marks.emplace_back(std::move(text));
  };
  entry(cut_stroke(), "cut");
  entry(slit_stroke(), "slit or dart");
  entry(wedge_fill(), "wedge to cut away");
  entry(midline_stroke(), "midline of the face");
}

struct SheetNumber {
  std::size_t sheet;
  std::size_t of;
};

void draw_head(VectorPage& page, const TemplatePrint& print, const SheetNumber& number) {
  const double width = page.width_mm - 2 * page_margin;
  PageColumn column(page, {page_margin, page_margin - 2}, width);
  column.write(shortened("Cut template: " + print.title, title_text, width), title_text, 1);
  column.space(0.5);
  if (!print.note.empty()) column.write(print.note, soft_text, 2);
  column.write(
      fmt::format("Dressing: {}, sold as {:g} x {:g} mm. Sheet {} of {}.", print.material,
                  print.sheet.length_mm, print.sheet.width_mm, number.sheet + 1, number.of),
      bold_text, 1);
  const Vec2 bar(page_margin, page_margin + 29);
  draw_check_bar(page, bar);
  PageColumn beside(page, bar + Vec2(check_bar_mm + 14, -8.5), width - check_bar_mm - 14);
  beside.write(print_words() + " If it is not, don't cut by this page.", bold_text, 3);
  PageColumn how(page, {page_margin, page_margin + 30.5}, width);
  how.write(
      "How to use it: cut the shapes out of this page, lay them printed side up on the dressing's "
      "outer face (the side away from the skin), draw round them and cut. Arrows point up on the "
      "wearer, L and R are the wearer's left and right. A slit is one straight cut; of a dart "
      "the grey wedge is cut away and its edges are brought together on the skin.",
      body_text, 4);
  draw_key(page, how.at() + Vec2(0, 6));
}

void draw_sheet(VectorPage& page, const TemplatePrint& print, const SheetSold& used,
                const Vec2& upper_left) {
  page.marks.emplace_back(VectorPath{.points = {upper_left, upper_left + Vec2(used.length_mm, 0),
                                                upper_left + Vec2(used.length_mm, used.width_mm),
                                                upper_left + Vec2(0, used.width_mm)},
                                     .closed = true,
                                     .width_mm = 0.25,
                                     .colour = palette::leader,
                                     .dash_mm = 2});
  std::string words =
      fmt::format("Sheet as sold, {:g} x {:g} mm", print.sheet.length_mm, print.sheet.width_mm);
  if (used.length_mm < print.sheet.length_mm || used.width_mm < print.sheet.width_mm) {
    words += fmt::format("; drawn is the part that fits on the paper, {:g} x {:g} mm",
                         used.length_mm, used.width_mm);
  }
  if (used.has_grain) words += "; its grain runs from left to right here";
  page.marks.emplace_back(
      VectorText{words, 2.5, Weight::regular, palette::soft_ink, upper_left + Vec2(0, -1.2), 0});
}

void draw_foot(VectorPage& page, const TemplatePrint& print) {
  const double width = page.width_mm - 2 * page_margin;
  PageColumn column(page, {page_margin, page.height_mm - page_margin - foot_height}, width);
  column.write(standing_line() +
                   " Not on broken skin, nor on redness that does not blanch, without the wound "
                   "team. Lift it and look at the skin beneath at each check.",
               template_small_text, 2);
  column.write(fmt::format("Shapes come from an estimate of the face. Stretch is what all but "
                           "{:g} % of a piece keeps within; above {:g} % (assumed) it is slit.",
                           100 * print.rule.share_left_out, 100 * print.rule.stretch_limit),
               template_small_text, 2);
}

void refuse_too_large(std::span<const TemplatePiece> pieces, const SheetLayout& layout,
                      const TemplatePrint& print, const SheetSold& used) {
  if (layout.too_large.empty()) return;
  const bool by_paper =
      used.length_mm < print.sheet.length_mm || used.width_mm < print.sheet.width_mm;
  std::vector<Fault> faults;
  for (const std::size_t k : layout.too_large) {
    faults.push_back(
        {"", "",
         fmt::format("the piece for the {}, {}, does not fit on {} {:g} x {:g} mm with {:g} mm "
                     "to its edge{}",
                     place_words(pieces[k].site), size_words(pieces[k]),
                     by_paper ? "what the paper holds of the sheet," : "a sheet of", used.length_mm,
                     used.width_mm, print.rule.sheet_margin_mm,
                     used.has_grain ? ", up along its grain" : "")});
  }
  throw InputError(std::move(faults));
}

}  // namespace

std::vector<VectorPage> template_pages(std::span<const TemplatePiece> pieces,
                                       const TemplatePrint& print) {
  const SheetSold used = sheet_in_use(print);
  std::vector<Polygon> outlines;
  for (const TemplatePiece& piece : pieces) outlines.push_back(piece.outline);
  const SheetLayout layout = lay_out(outlines, used, print.rule, most_pieces);
  refuse_too_large(pieces, layout, print, used);
  const Vec2 paper = size_of(print.paper);
  std::vector<VectorPage> out;
  for (std::size_t sheet = 0; sheet < layout.n_sheets; ++sheet) {
    VectorPage page{paper.x(), paper.y(), {}};
    draw_head(page, print, {sheet, layout.n_sheets});
    const Vec2 upper_left(page_margin, page_margin + head_height);
    draw_sheet(page, print, used, upper_left);
    const Vec2 lower_left = upper_left + Vec2(0, used.width_mm);
    const double column_width = 0.5 * (paper.x() - 2 * page_margin) - 3;
    PageColumn words[2] = {PageColumn(page, lower_left + Vec2(0, 2), column_width),
                           PageColumn(page, lower_left + Vec2(column_width + 6, 2), column_width)};
    std::size_t n = 0;
    for (const PlacedPiece& placed : layout.placed) {
      if (placed.sheet != sheet) continue;
      const TemplatePiece& piece = pieces[placed.piece];
      const PiecePose pose{placed.turn_rad, lower_left + Vec2(placed.shift.x(), -placed.shift.y())};
      draw_piece(page, piece, placed.piece + 1, pose);
      PageColumn& column = words[n++ % 2];
      column.write(
          fmt::format("{}: {}, {}", placed.piece + 1, place_words(piece.site), size_words(piece)),
          small_bold, 1);
      column.write(piece_words(piece, print.rule), template_small_text, 3);
      column.space(1);
    }
    draw_foot(page, print);
    out.push_back(std::move(page));
  }
  return out;
}

std::vector<std::string> template_svgs(std::span<const TemplatePiece> pieces,
                                       const TemplatePrint& print) {
  std::vector<std::string> out;
  for (const VectorPage& page : template_pages(pieces, print)) {
    out.push_back(svg_of(page, "Cut template: " + print.title));
  }
  return out;
}

}  // namespace rimload
