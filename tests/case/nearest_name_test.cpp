// The name that was probably meant.
#include "case/nearest_name.hpp"

#include <vector>

#include "catch.hpp"

using namespace rimload;

TEST_CASE("the nearest name takes the fewest changes of letters") {
  const std::vector<std::string> names{"loose", "appropriate", "tight"};
  CHECK(nearest_name("tigth", names) == "tight");
  CHECK(nearest_name("apropriate", names) == "appropriate");
  CHECK(nearest_name("LOOSE", names) == "loose");
}

TEST_CASE("a word unlike any name has no nearest") {
  const std::vector<std::string> names{"loose", "tight"};
  CHECK(nearest_name("posture", names).empty());
  CHECK(nearest_name("", names).empty());
  CHECK(nearest_name("tight", {}).empty());
  CHECK(name_hint("posture", names) == "; valid: loose, tight");
}

TEST_CASE("a very long word is compared in an instant and has no nearest") {
  const std::vector<std::string> names{"loose", "tight"};
  CHECK(nearest_name(std::string(10000000, 'x'), names).empty());
}
