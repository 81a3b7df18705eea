// PDFs looked at with poppler's programs, as a printer would draw them.
#pragma once

#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "catch.hpp"

namespace rimload {

inline std::string text_of(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

// A folder with the PDF in it, removed afterwards; runs poppler's programs there.
class Printed {
 public:
  explicit Printed(const std::string& pdf)
      : folder_(std::filesystem::temp_directory_path() /
                ("rimload-pdf-" + std::to_string(getpid()))) {
    std::filesystem::create_directories(folder_);
    std::ofstream(folder_ / "page.pdf", std::ios::binary) << pdf;
  }
  ~Printed() { std::filesystem::remove_all(folder_); }
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
  std::filesystem::path folder_;
};

inline bool has_poppler() {
  if (std::system("pdftoppm -v > /dev/null 2>&1 && pdfinfo -v > /dev/null 2>&1") == 0) return true;
  WARN("SKIPPED: poppler-utils is not installed, so the printed bar is not measured");
  return false;
}

// The longest run of dark pixels in any row of a plain grey picture (PGM).
inline long longest_dark_run(const std::string& pgm) {
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

}  // namespace rimload
