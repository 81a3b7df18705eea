// The project itself, held against its rules.
#include <algorithm>

#include "architecture/includes.hpp"
#include "architecture/text_rules.hpp"
#include "catch.hpp"

using namespace rimload::architecture;

namespace {
const std::filesystem::path root = RIMLOAD_SOURCE_DIR;

std::vector<SourceFile> engine() {
  static constexpr std::array<std::string_view, 2> folders{"geometry", "src"};
  return read_cpp_files(root, folders);
}
std::vector<SourceFile> all_code() {
  static constexpr std::array<std::string_view, 5> folders{"geometry", "src", "tests",
                                                           "face-models", "demo"};
  return read_cpp_files(root, folders);
}
const std::vector<std::string> none;
}  // namespace

TEST_CASE("the files are read") {
  // Else the checks below could pass by looking at nothing.
  const std::vector<SourceFile> files = engine();
  for (const std::string path : {"geometry/skin_map.hpp", "src/units/units.hpp"}) {
    const auto found = std::ranges::find(files, path, &SourceFile::path);
    REQUIRE(found != files.end());
    CHECK_FALSE(found->text.empty());
  }
}

TEST_CASE("every module includes only itself and modules to its left") {
  CHECK(include_faults(engine()) == none);
}

TEST_CASE("no header includes itself by way of others") { CHECK(include_cycles(engine()) == none); }

TEST_CASE("no file is longer than 400 lines and no line wider than 100 columns") {
  CHECK(size_faults(all_code()) == none);
}

TEST_CASE("no work is left to do in the code without an issue") {
  CHECK(unfinished_work(all_code()) == none);
}

TEST_CASE("nothing below the report prints, reads a clock or asks the environment") {
  CHECK(side_effects(engine()) == none);
}

TEST_CASE("every header says what it is for") { CHECK(headers_without_comment(engine()) == none); }

TEST_CASE("the top level holds what is agreed") {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(root)) {
    names.push_back(entry.path().filename().string());
  }
  std::ranges::sort(names);
  CHECK(top_level_faults(names) == none);
}
