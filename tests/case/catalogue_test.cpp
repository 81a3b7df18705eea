#include "case/catalogue.hpp"

#include <fstream>
#include <sstream>

#include "catch.hpp"
#include "units/error.hpp"

using namespace rimload;

namespace {
std::string text_of(const std::string& path) {
  std::ifstream in(std::string(RIMLOAD_SOURCE_DIR) + "/" + path);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}
}  // namespace

TEST_CASE("A catalogue lists every size of every cushion") {
  const Catalogue catalogue = read_catalogue(text_of("tests/data/test-cushions.json"), "c.json");
  REQUIRE(catalogue.cushions.size() == 4);
}
