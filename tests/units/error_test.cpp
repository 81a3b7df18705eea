// What a user reads when his input is at fault.
#include "units/error.hpp"
#include "catch.hpp"

using rimload::Fault;
using rimload::InputError;

TEST_CASE("a fault reads file, path, message, and leaves out what it does not have") {
  CHECK(describe(Fault{"case.json", "/settings/cpap_cmH2O", "is 50"}) ==
        "case.json: /settings/cpap_cmH2O: is 50");
  CHECK(describe(Fault{"case.json", "", "is no JSON"}) == "case.json: is no JSON");
  CHECK(describe(Fault{"", "/straps", "is missing"}) == "/straps: is missing");
  CHECK(describe(Fault{"", "", "nothing given"}) == "nothing given");
}

TEST_CASE("an error of input carries every fault, and tells them one a line") {
  const InputError error({{"a.json", "/x", "one"}, {"a.json", "/y", "two"}});
  REQUIRE(error.faults().size() == 2);
  CHECK(error.faults()[1].path == "/y");
  CHECK(std::string(error.what()) == "a.json: /x: one\na.json: /y: two");
}

TEST_CASE("an error of one fault is built from its three parts") {
  const InputError error("a.json", "/x", "one");
  REQUIRE(error.faults().size() == 1);
  CHECK(error.faults()[0].file == "a.json");
  CHECK(std::string(error.what()) == "a.json: /x: one");
}
