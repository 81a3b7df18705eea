// Reading JSON strictly.
#include "case/json_text.hpp"

#include "case/sample_files.hpp"
#include "catch.hpp"

using namespace rimload;

namespace {
std::vector<Fault> json_faults(const std::string& text) {
  return faults_of([&] { (void)parse_json(text, "a.json"); });
}
std::string nested(int depth) {
  return std::string(static_cast<std::size_t>(depth), '[') +
         std::string(static_cast<std::size_t>(depth), ']');
}
}  // namespace

TEST_CASE("sound JSON is read as it is written") {
  CHECK(parse_json(R"({"a": [1, 2.5, "x", true, null]})", "a.json").dump() ==
        R"({"a":[1,2.5,"x",true,null]})");
}

TEST_CASE("a syntax error is named by file, line and column") {
  const auto faults = json_faults("{\n  \"a\": 1,\n  \"b\" 2\n}");
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].file == "a.json");
  CHECK(faults[0].path == "line 3, column 7");
  CHECK(faults[0].message.find("this is no JSON") == 0);
}

TEST_CASE("every key given twice is named, those of deeper objects and of arrays too") {
  const auto faults =
      json_faults(R"({"a": 1, "b": [{}, {"c": 1, "c": 2}], "a": 3, "d/e": {"~": 1, "~": 1}})");
  REQUIRE(faults.size() == 3);
  CHECK(names(faults, "/b/1/c", "given twice"));
  CHECK(names(faults, "/a", "given twice"));
  CHECK(names(faults, "/d~1e/~0", "given twice"));
}

TEST_CASE("the same key in two objects side by side is no fault") {
  CHECK(json_faults(R"([{"a": 1}, {"a": 1}, {"b": {"a": 1}, "a": 1}])").empty());
}

TEST_CASE("64 levels are read and 65 are refused, a million too") {
  CHECK(json_faults(nested(max_json_depth)).empty());
  const auto faults = json_faults(nested(max_json_depth + 1));
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].message == "nested deeper than 64 levels");
  CHECK(json_faults(nested(1000000)).size() == 1);
  CHECK(json_faults(std::string(1000000, '[')).size() == 1);
}

TEST_CASE("NaN, infinity and numbers too large are refused") {
  for (const std::string text : {"[NaN]", "[nan]", "[Infinity]", "[-Infinity]"}) {
    INFO(text);
    CHECK(json_faults(text).size() == 1);
  }
  const auto faults = json_faults("[1, 1e999]");
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].message == "the number is too large");
  CHECK(faults[0].path.find("line 1") == 0);
}

TEST_CASE(
    "a whole number beyond 2^53 is refused at its place, as the validator would wrap it round") {
  CHECK(json_faults("[9007199254740992, -9007199254740992]").empty());
  const auto faults = json_faults(R"({"a": [1, 18446744073709551615], "b": -9007199254740993})");
  REQUIRE(faults.size() == 2);
  CHECK(names(faults, "/a/1", "too large"));
  CHECK(names(faults, "/b", "too large"));
}

TEST_CASE("text that is longer than 64 MB is refused before it is parsed") {
  const auto faults = json_faults(std::string(max_json_bytes + 1, ' '));
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].message.find("at most 67108864 are read") != std::string::npos);
}

TEST_CASE("bytes that are no UTF-8 are refused") {
  CHECK(json_faults("[\"\xff\xfe\"]").size() == 1);
  CHECK(json_faults(std::string("[\"a\0b\"]", 7)).size() == 1);
  CHECK(json_faults("").size() == 1);
}
