#include "report/sizing_card.hpp"

#include "choice/size_guide.hpp"
#include "report/check_bar.hpp"
#include "report/printed_pdf.hpp"
#include "report/vector_pdf.hpp"
#include "stored_face.hpp"

using namespace rimload;

namespace {

const Catalogue& demo_catalogue() {
  static const Catalogue catalogue =
      read_catalogue(stored_text("demo/catalogue/demo-cushions.json"), "demo-cushions.json");
  return catalogue;
}

std::string card_pdf() {
  std::vector<VectorPage> pages;
  for (const CardPage& card : sizing_card(demo_catalogue())) pages.push_back(card.page);
  return pdf_of(pages, "Sizing card");
}

// Texts of a page.
std::vector<std::string> texts_of(const VectorPage& page) {
  std::vector<std::string> out;
  for (const auto& mark : page.marks) {
    if (const auto* text = std::get_if<VectorText>(&mark)) out.push_back(text->text);
  }
  return out;
}

double mm_of(long pixels) { return static_cast<double>(pixels) * 25.4 / 600; }

}  // namespace

TEST_CASE("a card has a page for each type, and each size on every ruler of its page") {
  const auto pages = sizing_card(demo_catalogue());
  REQUIRE(pages.size() == 5);  // 9 oronasal sizes, seven a page
  CHECK(pages[0].name == "oronasal");
  for (const Cushion& cushion : demo_catalogue().cushions) {
    const std::string label = cushion.name + " " + cushion.size + " ";
    std::ptrdiff_t n = 0;
    for (const CardPage& page : pages) {
      if (!page.name.starts_with(name_of(cushion.type))) continue;
      const auto texts = texts_of(page.page);
      n += std::count_if(texts.begin(), texts.end(),
                         [&](const std::string& text) { return text.starts_with(label); });
    }
    CHECK(static_cast<std::size_t>(n) == size_guide(cushion.type).size());
  }
}

TEST_CASE("nothing on a card lies beyond its margins, however many sizes and however long a name") {
  Catalogue many = demo_catalogue();
  const Cushion pattern = many.cushions[1];
  for (int k = 0; k < 20; ++k) {
    many.cushions.push_back(pattern);
    many.cushions.back().name = "a-name-of-a-cushion-that-is-" + std::string(40, 'x');
    many.cushions.back().size = std::to_string(k);
    many.cushions.back().assumed = {CushionField::width};
  }
  const auto pages = sizing_card(many);
  CHECK(pages.size() == 3 + 5);  // 29 oronasal sizes, seven a page
  for (const CardPage& card : pages) {
    double lowest_bar = 0;
    double first_caution = 297;
    for (const auto& mark : card.page.marks) {
      if (const auto* text = std::get_if<VectorText>(&mark)) {
        CAPTURE(text->text);
        CHECK(text->pen.x() >= 10);
        CHECK(text->pen.x() + text->width() <= 200);
        CHECK(text->pen.y() <= 287);
        if (text->text.starts_with("A paper card") || text->text.starts_with("* Its")) {
          first_caution = std::min(first_caution, text->pen.y() - text->size_mm);
        }
      } else {
        for (const Vec2& point : std::get<VectorPath>(mark).points) {
          lowest_bar = std::max(lowest_bar, point.y());
        }
      }
    }
    CHECK(lowest_bar < first_caution);
  }
}

TEST_CASE("bar and rulers of a printed card are true to 0.1 mm") {
  const std::string pdf = card_pdf();
  CHECK(pdf == card_pdf());
  if (!has_poppler()) return;
  const Printed printed(pdf);
  const std::string info = printed.run("pdfinfo page.pdf");
  CHECK(info.find("595.276 x 841.89 pts (A4)") != std::string::npos);
  CHECK(info.find("Pages:           5") != std::string::npos);
  // The head of the page, which holds the bar and no ruler; a pixel is 0.042 mm.
  (void)printed.run("pdftoppm -r 600 -gray -l 1 -x 0 -y 0 -W 4900 -H 1000 -singlefile page.pdf a");
  CHECK(mm_of(longest_dark_run(printed.file("a.pgm"))) == Approx(check_bar_mm).margin(0.1));
  // The first ruler, 110 mm long between the middles of its side lines, which are 0.25 mm wide.
  (void)printed.run(
      "pdftoppm -r 600 -gray -l 1 -x 0 -y 1400 -W 4900 -H 1200 -singlefile page.pdf b");
  CHECK(mm_of(longest_dark_run(printed.file("b.pgm"))) == Approx(110.125).margin(0.17));
  const std::string text = printed.run("pdftotext -l 1 -raw page.pdf -");
  for (const char* words : {"Bridge to below the lower lip", "Mouth breadth", "Print at 100 %",
                            "only picks where to start", "not a medical device"}) {
    CAPTURE(words);
    CHECK(text.find(words) != std::string::npos);
  }
}

TEST_CASE("a size's bar lies over the values that go with it, on the ruler's own scale") {
  const CardPage card = sizing_card(demo_catalogue()).at(0);
  const Cushion& middle = demo_catalogue().cushions.at(1);
  const MeasureRange range = range_for(size_guide(middle.type).at(0), middle).value();
  bool found = false;
  for (const auto& mark : card.page.marks) {
    const auto* path = std::get_if<VectorPath>(&mark);
    if (path == nullptr || !path->fill || path->points.size() != 4) continue;
    constexpr double zero = 14;  // the page's margin, where rulers begin
    found = found || (std::abs(path->points[0].x() - zero - range.low_mm) < 1e-9 &&
                      std::abs(path->points[1].x() - zero - range.high_mm) < 1e-9);
  }
  CHECK(found);
}
