#include "report/sizing_card.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "choice/size_guide.hpp"
#include "report/check_bar.hpp"
#include "report/finding_cautions.hpp"
#include "report/measuring_guide.hpp"
#include "report/page_column.hpp"

namespace rimload {

namespace {

constexpr double a4_width = 210;
constexpr double a4_height = 297;
constexpr double card_margin = 14;
constexpr double card_inner = a4_width - 2 * card_margin;
constexpr double ticks_height = 9.5;  // with their numbers
constexpr double bar_row = 4.8;       // from one size's bar to the next
constexpr std::size_t most_rows = 7;
constexpr Rgb bar_shade{226, 230, 235};

// On this page a pixel of a text's style is a millimetre.
const TextStyle card_heading{6, Weight::semibold, palette::ink};
const TextStyle card_bold{3.3, Weight::semibold, palette::ink};
const TextStyle card_text{3, Weight::regular, palette::ink};
const TextStyle card_soft{2.8, Weight::regular, palette::soft_ink};
const TextStyle card_name{2.8, Weight::semibold, palette::ink};

VectorPath box(const Vec2& upper_left, const Vec2& size) {
  return {.points = {upper_left, upper_left + Vec2(size.x(), 0), upper_left + size,
                     upper_left + Vec2(0, size.y())},
          .closed = true};
}

VectorPath segment(const Vec2& a, const Vec2& b, double width, Rgb colour = palette::ink) {
  return {.points = {a, b}, .width_mm = width, .colour = colour};
}

struct SizeRow {
  std::string name;
  MeasureRange range;
};

// One ruler with its bars.
struct Strip {
  MeasureWords words;
  std::string rule;  // what a bar means
  std::vector<SizeRow> rows;
  double length_mm = 0;

  [[nodiscard]] double height() const {
    return ticks_height + bar_row * static_cast<double>(rows.size()) + 2;
  }
};

std::string rule_words(const SizeGuideRule& rule) {
  if (rule.by == SizeRoom::bottom_below) {
    return fmt::format(
        "A bar: the rim's lowest point then lies {:g} to {:g} mm below where you "
        "measure to.",
        rule.low_mm, rule.high_mm);
  }
  return fmt::format("A bar: the inner edge of the rim is then {:g} to {:g} mm clear at each side.",
                     rule.low_mm, rule.high_mm);
}

bool partly_assumed(const Cushion& cushion) {
  return cushion.is_assumed(CushionField::height) || cushion.is_assumed(CushionField::width) ||
         cushion.is_assumed(CushionField::lip_width) || cushion.is_assumed(CushionField::placement);
}

std::vector<Strip> strips_for(CushionType type, const std::vector<const Cushion*>& cushions) {
  std::vector<Strip> out;
  for (const SizeGuideRule& rule : size_guide(type)) {
    Strip strip{measuring_words(rule.measure), rule_words(rule), {}, 0};
    double farthest = 0;
    for (const Cushion* cushion : cushions) {
      const auto range = range_for(rule, *cushion);
      if (!range || range->low_mm <= 0) continue;
      strip.rows.push_back(
          {cushion->name + " " + cushion->size + (partly_assumed(*cushion) ? "*" : ""), *range});
      farthest = std::max(farthest, range->high_mm);
    }
    constexpr double least_length = 110;
    strip.length_mm = std::clamp(10 * std::ceil((farthest + 8) / 10), least_length, card_inner);
    if (!strip.rows.empty()) out.push_back(std::move(strip));
  }
  return out;
}

void draw_scale(VectorPage& page, const Strip& strip, const Vec2& zero) {
  const int n = static_cast<int>(strip.length_mm);
  for (int mm = 0; mm <= n; ++mm) {
    const Vec2 at = zero + Vec2(mm, 0);
    const double length = mm % 10 == 0 ? 5 : mm % 5 == 0 ? 3.6 : 2.2;
    if (mm > 0 && mm < n) {
      page.marks.emplace_back(segment(at, at + Vec2(0, length), mm % 10 == 0 ? 0.25 : 0.15));
    }
    if (mm % 10 != 0 || mm == n) continue;
    VectorText number{std::to_string(mm), 2.8, Weight::semibold, palette::ink, {}, 0};
    number.pen = at + Vec2(mm == 0 ? 0.8 : -0.5 * number.width(), 8);
    page.marks.emplace_back(std::move(number));
    if (mm == 0) continue;
    page.marks.emplace_back(segment(at + Vec2(0, ticks_height - 0.5),
                                    zero + Vec2(mm, strip.height() - 1), 0.12, palette::hairline));
  }
}

// The name stands beside its bar, where there is room.
void draw_row(VectorPage& page, const Strip& strip, const SizeRow& row, const Vec2& left) {
  constexpr double height = 3.4;
  const double low = row.range.low_mm;
  const double high = std::min(row.range.high_mm, strip.length_mm);
  VectorPath bar = box(left + Vec2(low, 0), {high - low, height});
  bar.width_mm = 0.3;
  bar.fill = bar_shade;
  page.marks.emplace_back(std::move(bar));
  const std::string words = fmt::format("{}  {:.0f}\u2013{:.0f}", row.name, std::ceil(low),
                                        std::floor(row.range.high_mm));
  constexpr double gap = 1.5;
  const double room_right = strip.length_mm - high - 2 * gap;
  const double room_left = low - 2 * gap;
  const bool right = room_right >= text_width(words, card_name) || room_right >= room_left;
  const std::string shown = shortened(words, card_name, right ? room_right : room_left);
  const double width = text_width(shown, card_name);
  const Vec2 pen = left + Vec2(right ? high + gap : low - gap - width, height - 0.8);
  VectorPath paper = box(pen + Vec2(-0.4, -2.7), {width + 0.8, 3.4});
  paper.width_mm = 0;
  paper.fill = palette::paper;
  page.marks.emplace_back(std::move(paper));
  page.marks.emplace_back(
      VectorText{shown, card_name.size_px, card_name.weight, card_name.colour, pen, 0});
}

// Heading, how to take it, the ruler; returns where the next may begin.
double draw_strip(VectorPage& page, const Strip& strip, std::size_t number, double top) {
  PageColumn column(page, {card_margin, top}, card_inner);
  column.write(fmt::format("{}  {}", number, strip.words.title), card_bold, 1);
  column.write(strip.words.how, card_text, 1);
  column.write(strip.rule, card_soft, 1);
  const Vec2 corner(card_margin, column.at().y() + 2);
  draw_scale(page, strip, corner);
  Vec2 row_at = corner + Vec2(0, ticks_height);
  for (const SizeRow& row : strip.rows) {
    draw_row(page, strip, row, row_at);
    row_at.y() += bar_row;
  }
  // The edge with the ticks is a line, the others are dashed.
  const Vec2 size(strip.length_mm, strip.height());
  page.marks.emplace_back(segment(corner, corner + Vec2(size.x(), 0), 0.2));
  VectorPath cut = box(corner, size);
  std::rotate(cut.points.begin(), cut.points.begin() + 1, cut.points.end());
  cut.closed = false;
  cut.width_mm = 0.25;
  cut.colour = palette::leader;
  cut.dash_mm = 2;
  page.marks.emplace_back(std::move(cut));
  return corner.y() + strip.height() + 3.5;
}

VectorPage card_page(const Catalogue& catalogue, const std::string& title,
                     const std::vector<const Cushion*>& cushions) {
  VectorPage page{a4_width, a4_height, {}};
  PageColumn head(page, {card_margin, card_margin - 3}, card_inner);
  head.write(title, card_heading, 1);
  head.space(0.5);
  head.write(catalogue.about.substr(0, catalogue.about.find(". ") + 1), card_soft, 2);
  const Vec2 bar(card_margin, head.at().y() + 11.5);
  draw_check_bar(page, bar);
  PageColumn beside(page, bar + Vec2(check_bar_mm + 12, -9.5), card_inner - check_bar_mm - 12);
  beside.write(print_words() + " If it is not, don't measure with this page.", card_bold, 3);
  PageColumn how(page, {card_margin, bar.y() + 2.5}, card_inner);
  how.write(
      "Cut each ruler out along its lines. Hold its left edge, 0, where the dimension begins and "
      "its "
      "ticks along it, beside the nose where that is in the way; mouth closed and relaxed, without "
      "pressing. Start with a size whose bar holds the reading on every ruler. If there is none, "
      "or "
      "more than one, try the nearest on the face.",
      card_text, 4);
  double top = how.at().y() + 3;
  std::size_t number = 1;
  const bool starred = std::any_of(cushions.begin(), cushions.end(),
                                   [](const Cushion* each) { return partly_assumed(*each); });
  for (const Strip& strip : strips_for(cushions.front()->type, cushions)) {
    top = draw_strip(page, strip, number++, top);
  }
  constexpr double foot_height = 27;
  PageColumn foot(page, {card_margin, a4_height - card_margin - foot_height + 4}, card_inner);
  if (starred) foot.write("* Its dimensions are in part assumed, see the catalogue.", card_soft, 1);
  foot.write(
      "A paper card only picks where to start; look at the face with the mask on, gas running.",
      card_bold, 1);
  foot.write(
      "No ruler near an eye or on injured skin. With a mask or tube in place, leave out what it "
      "covers. For one person: throw the card away afterwards.",
      card_text, 2);
  foot.write("What goes with a size is a convention of this project, no published limit. " +
                 standing_line(),
             card_soft, 2);
  return page;
}

}  // namespace

std::string card_title(const CardPage& page) { return "Sizing card: " + page.name; }

std::vector<CardPage> sizing_card(const Catalogue& catalogue) {
  std::vector<CardPage> out;
  for (const CushionType type : {CushionType::oronasal, CushionType::nasal,
                                 CushionType::below_nose_oronasal, CushionType::total_face}) {
    std::vector<const Cushion*> cushions;
    for (const Cushion& cushion : catalogue.cushions) {
      if (cushion.type == type) cushions.push_back(&cushion);
    }
    const std::size_t n_pages = (cushions.size() + most_rows - 1) / most_rows;
    for (std::size_t k = 0; k < n_pages; ++k) {
      const auto first = cushions.begin() + static_cast<std::ptrdiff_t>(k * most_rows);
      const auto last = cushions.begin() +
                        static_cast<std::ptrdiff_t>(std::min(cushions.size(), (k + 1) * most_rows));
      std::string title = fmt::format("Sizing card: {} cushions", words_for(type));
      std::string name(name_of(type));
      if (n_pages > 1) title += fmt::format(", page {} of {}", k + 1, n_pages);
      if (k > 0) name += fmt::format("-{}", k + 1);
      out.push_back({std::move(name), card_page(catalogue, title, {first, last})});
    }
  }
  return out;
}

}  // namespace rimload
