#include "report/template_page.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "catch.hpp"
#include "report/sample_pieces.hpp"
#include "units/error.hpp"

using namespace rimload;

namespace {

TemplatePrint print_on(double length_mm, double width_mm) {
  return {.title = "A test & <more>",
          .note = "Invented for a test.",
          .material = "test-foam",
          .sheet = {length_mm, width_mm},
          .rule = usual_cut_rule(),
          .paper = Paper::a4};
}

std::vector<VectorPath> paths_of(const VectorPage& page) {
  std::vector<VectorPath> out;
  for (const auto& mark : page.marks) {
    if (const auto* path = std::get_if<VectorPath>(&mark)) out.push_back(*path);
  }
  return out;
}

std::vector<VectorText> texts_of(const VectorPage& page) {
  std::vector<VectorText> out;
  for (const auto& mark : page.marks) {
    if (const auto* text = std::get_if<VectorText>(&mark)) out.push_back(*text);
  }
  return out;
}

std::string words_of(const VectorPage& page) {
  std::string out;
  for (const VectorText& text : texts_of(page)) out += text.text + ' ';
  return out;
}

bool says(const VectorPage& page, const std::string& words) {
  return words_of(page).find(words) != std::string::npos;
}

// Closed shapes in ink that are as large as asked.
long shapes_of_size(const VectorPage& page, const Vec2& size) {
  const std::vector<VectorPath> paths = paths_of(page);
  return std::count_if(paths.begin(), paths.end(), [&](const VectorPath& path) {
    return path.closed && (extent_of(path.points).size() - size).norm() < 1e-9;
  });
}

}  // namespace

TEST_CASE("Every piece is on a page at its true size, on its sheet's outline") {
  const auto pieces = sample::pieces();
  const auto pages = template_pages(pieces, print_on(100, 80));
  REQUIRE(pages.size() == 1);
  const VectorPage& page = pages.front();
  CHECK(page.width_mm == 210);
  CHECK(page.height_mm == 297);
  CHECK(shapes_of_size(page, {100, 80}) == 1);
  for (const TemplatePiece& piece : pieces) {
    const Vec2 size = extent_of(piece.outline).size();
    CHECK(shapes_of_size(page, size) + shapes_of_size(page, {size.y(), size.x()}) == 1);
  }
}

TEST_CASE("The bar to measure is a filled box 50 mm long on every page") {
  const std::vector<TemplatePiece> many(12, sample::piece({Site::cheek, Side::left}, 60, 40));
  const auto pages = template_pages(many, print_on(140, 100));
  REQUIRE(pages.size() == 3);  // four on a sheet
  for (const VectorPage& page : pages) {
    const auto paths = paths_of(page);
    const auto bar = std::find_if(paths.begin(), paths.end(), [](const VectorPath& path) {
      return path.fill && path.width_mm == 0 &&
             std::abs(extent_of(path.points).size().x() - check_bar_mm) < 1e-12;
    });
    REQUIRE(bar != paths.end());
    CHECK(bar->fill == palette::ink);
    CHECK(says(page, "it must be 50"));
    CHECK(says(page, "Print at 100 %"));
  }
}

TEST_CASE("A page says what it is, how to use it and what to beware of") {
  const auto pages = template_pages(sample::pieces(), print_on(100, 80));
  const VectorPage& page = pages.front();
  for (const std::string words :
       {"Cut template: A test & <more>", "Invented for a test.", "test-foam", "100 x 80 mm",
        "Sheet 1 of 1", "outer face", "point up on the wearer", "not a medical device",
        "local policy", "broken skin", "wound team", "assumed"}) {
    CAPTURE(words);
    CHECK(says(page, words));
  }
}

TEST_CASE("Each piece is told in words: size, stretch, slit, dart, and whether it lies flat") {
  const auto pages = template_pages(sample::pieces(), print_on(100, 80));
  const VectorPage& page = pages.front();
  for (const std::string words :
       {"1: nasal bridge, 36 x 20 mm", "2: chin, 60 x 22 mm", "3: cheek (left), 20 x 45 mm",
        "stretch by up to 4 %", "shorten by up to 2 %", "Slit 5 mm long", "opens by 2.1 mm",
        "Dart 9 mm long", "wedge of 4.0 mm", "under the rim", "above 5 %"}) {
    CAPTURE(words);
    CHECK(says(page, words));
  }
}

TEST_CASE("Within each piece stand its number, name, an arrow upwards, and L right of R") {
  TemplatePrint print = print_on(100, 80);
  for (const bool grain : {false, true}) {
    CAPTURE(grain);
    print.sheet.has_grain = grain;
    const std::vector<TemplatePiece> one{sample::piece({Site::chin, Side::midline}, 40, 25)};
    const auto pages = template_pages(one, print);
    const auto texts = texts_of(pages.front());
    const auto find = [&](const std::string& words) {
      const auto text = std::find_if(texts.begin(), texts.end(),
                                     [&](const VectorText& each) { return each.text == words; });
      REQUIRE(text != texts.end());
      return *text;
    };
    // With a grain up lies to the page's right, and the wearer's left below.
    const Vec2 leftwards = grain ? Vec2(0, 1) : Vec2(1, 0);
    CHECK((find("L").pen - find("R").pen).dot(leftwards) > 25);
    CHECK(find("1").turn_rad == Approx(grain ? -std::acos(0.0) : 0));
    CHECK(find("chin").turn_rad == find("1").turn_rad);
    const auto paths = paths_of(pages.front());
    const auto head = std::find_if(paths.begin(), paths.end(), [](const VectorPath& path) {
      return path.fill == palette::ink && path.points.size() == 3;
    });
    REQUIRE(head != paths.end());
    const Vec2 middle = (head->points[0] + head->points[1] + head->points[2]) / 3;
    const Vec2 upwards = grain ? Vec2(1, 0) : Vec2(0, -1);
    CHECK((head->points[0] - middle).normalized().dot(upwards) == Approx(1));
  }
}

TEST_CASE("Nothing is written over an outline, a slit or the midline") {
  const auto pages = template_pages(sample::pieces(), print_on(100, 80));
  const VectorPage& page = pages.front();
  const auto texts = texts_of(page);
  int checked = 0;
  int hit = 0;
  for (const VectorPath& path : paths_of(page)) {
    if (path.fill || path.dash_mm > 1.5) continue;  // bar, wedge; the sheet's edge
    for (const VectorText& text : texts) {
      if (text.turn_rad != 0) continue;
      const double high = Font::of(text.weight).cap_height(text.size_mm);
      for (std::size_t k = 0; k + 1 < path.points.size(); ++k) {
        for (double share = 0; share <= 1; share += 0.01) {
          const Vec2 at = path.points[k] + share * (path.points[k + 1] - path.points[k]) - text.pen;
          if (at.x() > 0 && at.x() < text.width() && at.y() < 0 && at.y() > -high) ++hit;
          ++checked;
        }
      }
    }
  }
  CHECK(checked > 1000);
  CHECK(hit == 0);
}

TEST_CASE("Everything on a page lies within its printable part") {
  const std::vector<TemplatePiece> many(9, sample::pieces()[1]);
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    TemplatePrint print = print_on(300, 250);
    print.paper = paper;
    print.note = std::string(300, 'x') + " " + std::string(300, 'y');
    for (const VectorPage& page : template_pages(many, print)) {
      constexpr double margin = 10;  // what any printer can print on
      double least = 1e9;
      const auto look = [&](const Vec2& at) {
        least = std::min({least, at.x(), at.y(), page.width_mm - at.x(), page.height_mm - at.y()});
      };
      for (const VectorPath& path : paths_of(page)) {
        for (const Vec2& point : path.points) look(point);
      }
      for (const VectorText& text : texts_of(page)) {
        look(text.pen);
        const Mat2 turn = Eigen::Rotation2Dd(-text.turn_rad).toRotationMatrix();
        look(text.pen + turn * Vec2(text.width(), 0));
      }
      CHECK(least >= margin);
    }
  }
}

TEST_CASE("A sheet larger than the paper is drawn in part, and the page says so") {
  const auto pages = template_pages(sample::pieces(), print_on(300, 250));
  CHECK(says(pages.front(), "Sheet as sold, 300 x 250 mm; drawn is the part that fits"));
}

TEST_CASE("Pieces larger than the sheet or the paper are refused by name, all at once") {
  std::vector<TemplatePiece> pieces = sample::pieces();
  pieces[2] = sample::piece({Site::cheek, Side::right}, 58, 45);
  try {
    (void)template_pages(pieces, print_on(60, 40));
    FAIL("it was not refused");
  } catch (const InputError& error) {
    REQUIRE(error.faults().size() == 2);
    CHECK(error.faults()[0].message.find("chin, 60 x 22 mm") != std::string::npos);
    CHECK(error.faults()[0].message.find("a sheet of 60 x 40 mm") != std::string::npos);
    CHECK(error.faults()[1].message.find("cheek (right)") != std::string::npos);
  }
  const std::vector<TemplatePiece> huge{sample::piece({Site::forehead, Side::midline}, 250, 30)};
  try {
    (void)template_pages(huge, print_on(300, 300));
    FAIL("it was not refused");
  } catch (const InputError& error) {
    CHECK(error.faults()[0].message.find("paper") != std::string::npos);
  }
}

TEST_CASE("An SVG page is at true size in millimetres, with its text escaped") {
  const auto svgs = template_svgs(sample::pieces(), print_on(100, 80));
  REQUIRE(svgs.size() == 1);
  const std::string& svg = svgs.front();
  CHECK(
      svg.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"210mm\" "
                      "height=\"297mm\" viewBox=\"0 0 210 297\""));
  CHECK(svg.find("A test &amp; &lt;more&gt;") != std::string::npos);
  CHECK(svg.find("<more>") == std::string::npos);
  CHECK(svg.ends_with("</svg>\n"));
  // The bar starts at the margin and is 50 units long.
  CHECK(svg.find("M12.000 39.800L62.000 39.800L62.000 41.000L12.000 41.000Z\" "
                 "fill=\"#1c2128\"") != std::string::npos);
}
