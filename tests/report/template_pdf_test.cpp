#include "report/template_pdf.hpp"

#include "catch.hpp"
#include "report/printed_pdf.hpp"
#include "report/sample_pieces.hpp"
#include "units/error.hpp"

using namespace rimload;

namespace {

TemplatePrint print_on(Paper paper) {
  return {.title = "A test",
          .note = "Invented for a test.",
          .material = "test-foam",
          .sheet = {100, 80},
          .rule = usual_cut_rule(),
          .paper = paper};
}

}  // namespace

TEST_CASE("Equal pages give an equal PDF, byte for byte") {
  const std::string first = template_pdf(sample::pieces(), print_on(Paper::a4));
  const std::string second = template_pdf(sample::pieces(), print_on(Paper::a4));
  CHECK(first.starts_with("%PDF-1."));
  CHECK(first == second);
  CHECK(first != template_pdf(sample::pieces(), print_on(Paper::letter)));
}

TEST_CASE("The printed bar is 50 mm long within 0.1 mm, on paper of the right size") {
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    const std::string pdf = template_pdf(sample::pieces(), print_on(paper));
    REQUIRE(pdf.starts_with("%PDF"));
    if (!has_poppler()) return;
    const Printed printed(pdf);
    const std::string info = printed.run("pdfinfo page.pdf");
    // 210 x 297 mm and 215.9 x 279.4 mm in points of 1/72 inch.
    const std::string size = paper == Paper::a4 ? "595.276 x 841.89 pts (A4)" : "612 x 792 pts";
    CHECK(info.find(size) != std::string::npos);
    CHECK(info.find("Pages:           1") != std::string::npos);
    // The upper part of the page, which holds the bar and no other long dark line.
    constexpr double dots_per_inch = 600;
    (void)printed.run("pdftoppm -r 600 -gray -x 0 -y 0 -W 4900 -H 1180 -singlefile page.pdf page");
    const double bar_mm =
        static_cast<double>(longest_dark_run(printed.file("page.pgm"))) * 25.4 / dots_per_inch;
    CAPTURE(bar_mm);
    CHECK(bar_mm == Approx(check_bar_mm).margin(0.1));  // a pixel is 0.042 mm
  }
}

TEST_CASE("The PDF's text can be read by a machine") {
  const std::string pdf = template_pdf(sample::pieces(), print_on(Paper::a4));
  REQUIRE(pdf.starts_with("%PDF"));
  if (!has_poppler()) return;
  const Printed printed(pdf);
  const std::string text = printed.run("pdftotext -raw page.pdf -");
  for (const std::string words :
       {"Cut template: A test", "nasal bridge", "Print at 100 %", "not a medical device"}) {
    CAPTURE(words);
    CHECK(text.find(words) != std::string::npos);
  }
}

TEST_CASE("A PDF is refused where its pages are") {
  TemplatePrint print = print_on(Paper::a4);
  print.sheet = {30, 30};
  CHECK_THROWS_AS(template_pdf(sample::pieces(), print), InputError);
}
