#include "report/template_pdf.hpp"

#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "catch.hpp"
#include "report/sample_pieces.hpp"
#include "units/error.hpp"

using namespace rimload;
namespace fs = std::filesystem;

namespace {

TemplatePrint print_on(Paper paper) {
  return {.title = "A test",
          .note = "Invented for a test.",
          .material = "test-foam",
          .sheet = {100, 80},
          .rule = usual_cut_rule(),
          .paper = paper};
}

std::string text_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

// A folder with the PDF in it, removed afterwards; runs poppler's programs there.
class Printed {
 public:
  explicit Printed(const std::string& pdf)
      : folder_(fs::temp_directory_path() / ("rimload-pdf-" + std::to_string(getpid()))) {
    fs::create_directories(folder_);
    std::ofstream(folder_ / "page.pdf", std::ios::binary) << pdf;
  }
  ~Printed() { fs::remove_all(folder_); }
  Printed(const Printed&) = delete;
  Printed& operator=(const Printed&) = delete;

  [[nodiscard]] std::string run(const std::string& command) const {
    const std::string whole = "cd '" + folder_.string() + "' && " + command + " > printed 2>&1";
    const int status = std::system(whole.c_str());
    CHECK(status == 0);
    return text_of(folder_ / "printed");
  }
  [[nodiscard]] std::string file(const std::string& name) const { return text_of(folder_ / name); }

 private:
  fs::path folder_;
};

bool has_poppler() {
  if (std::system("pdftoppm -v > /dev/null 2>&1 && pdfinfo -v > /dev/null 2>&1") == 0) return true;
  WARN("SKIPPED: poppler-utils is not installed, so the printed bar is not measured");
  return false;
}

// The longest run of dark pixels in any row of a plain grey picture (PGM).
long longest_dark_run(const std::string& pgm) {
  std::istringstream in(pgm);
  std::string kind;
  long width = 0;
  long height = 0;
  long white = 0;
  in >> kind >> width >> height >> white;
  REQUIRE(kind == "P5");
  REQUIRE(white == 255);
  const std::string pixels = pgm.substr(static_cast<std::size_t>(in.tellg()) + 1);
  REQUIRE(pixels.size() == static_cast<std::size_t>(width * height));
  long longest = 0;
  for (long y = 0; y < height; ++y) {
    long run = 0;
    for (long x = 0; x < width; ++x) {
      const auto grey = static_cast<unsigned char>(pixels[static_cast<std::size_t>(y * width + x)]);
      run = grey < 128 ? run + 1 : 0;
      longest = std::max(longest, run);
    }
  }
  return longest;
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
