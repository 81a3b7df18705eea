// The checkers of text themselves, each on a small input that breaks its rule.
#include "architecture/text_rules.hpp"
#include "catch.hpp"

using namespace rimload::architecture;

namespace {
std::vector<SourceFile> one(std::string path, std::string text) {
  return {{std::move(path), std::move(text)}};
}
std::string repeated(const std::string& text, int times) {
  std::string all;
  for (int i = 0; i < times; ++i) all += text;
  return all;
}
}  // namespace

TEST_CASE("a file of 400 lines passes and one of 401 is found") {
  CHECK(size_faults(one("a.cpp", repeated("\n", 400))).empty());
  CHECK(size_faults(one("a.cpp", repeated("\n", 401))) ==
        std::vector<std::string>{"a.cpp: 401 lines"});
}

TEST_CASE("a line of 100 characters passes and one of 101 is found") {
  CHECK(size_faults(one("a.cpp", std::string(100, 'x') + "\n")).empty());
  CHECK(size_faults(one("a.cpp", "\n" + std::string(101, 'x'))) ==
        std::vector<std::string>{"a.cpp:2: 101 columns"});
  CHECK(size_faults(one("a.cpp", repeated("\u00b5", 100))).empty());
}

TEST_CASE("work left to do is found in code and in comments") {
  const std::string mark = std::string("TO") + "DO";
  CHECK(unfinished_work(one("a.cpp", "int a;  // " + mark + ": more\n")) ==
        std::vector<std::string>{"a.cpp:1: " + mark});
  CHECK(unfinished_work(one("a.cpp", "int " + mark + "_list;\n")).empty());
}

TEST_CASE("output, clock and environment are found below the report and allowed from there on") {
  for (const std::string text :
       {"std::cout << 1;", "std::printf(\"1\");", "fmt::print(\"1\");", "#include <iostream>",
        "#include <chrono>", "auto t = std::chrono::steady_clock::now();", "std::getenv(\"A\");",
        "std::ofstream out;", "std::random_device seed;"}) {
    INFO(text);
    CHECK_FALSE(side_effects(one("src/contact/a.cpp", text)).empty());
    CHECK_FALSE(side_effects(one("geometry/a.cpp", text)).empty());
    CHECK(side_effects(one("src/report/a.cpp", text)).empty());
    CHECK(side_effects(one("src/cli/a.cpp", text)).empty());
  }
}

TEST_CASE("naming a clock in a comment or printing into memory is no side effect") {
  CHECK(side_effects(one("src/fit/a.cpp", "// takes no steady_clock\n")).empty());
  CHECK(side_effects(one("src/fit/a.cpp", "std::snprintf(buffer, 8, \"1\");\n")).empty());
}

TEST_CASE("a header that starts without a comment is found") {
  CHECK(headers_without_comment(one("a.hpp", "// What it is for.\n#pragma once\n")).empty());
  CHECK(headers_without_comment(one("a.hpp", "#pragma once\n")).size() == 1);
  CHECK(headers_without_comment(one("a.cpp", "#include \"a.hpp\"\n")).empty());
}

TEST_CASE("the top level holds what is agreed and nothing else") {
  std::vector<std::string> names{
      "CMakeLists.txt", "README.md",   "DEVELOPERS.md", "LICENSE",    "src",  "geometry",
      "tests",          "face-models", "demo",          ".gitignore", "build"};
  CHECK(top_level_faults(names).empty());
  names.emplace_back("notes.txt");
  CHECK(top_level_faults(names) == std::vector<std::string>{"notes.txt: not allowed"});
  names.pop_back();
  names.erase(names.begin());
  CHECK(top_level_faults(names) == std::vector<std::string>{"CMakeLists.txt: missing"});
}
