// What a case sets of the rule by which cushions are ranked.
#include "case/size_request.hpp"

#include "case/sample_files.hpp"
#include "catch.hpp"

using namespace rimload;
using nlohmann::json;

namespace {

json with_rule(const std::string& rule) {
  json out = least_case();
  out["sizes"] = json::parse(rule);
  return out;
}

Case read(const json& document) { return read_case(document.dump(), "case.json", sample_disk()); }

bool says(const json& document, const std::string& path, const std::string& words) {
  for (const Fault& fault : case_faults(document)) {
    if (fault.path == path && fault.message.find(words) != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("every number of the ranking rule is read, and what is left out stays open") {
  const SizeRequest full = read(full_case()).size_request;
  CHECK(full.rank_by == SizeMeasure::window);
  CHECK(full.strap_step_mm == 3);
  CHECK(full.seals_in_share == 0.8);
  CHECK(full.tie_share == 0.1);
  const SizeRequest one = read(with_rule(R"({"rank_by": "leak"})")).size_request;
  CHECK(one.rank_by == SizeMeasure::leak);
  CHECK_FALSE(one.strap_step_mm);
  CHECK_FALSE(one.seals_in_share);
  CHECK_FALSE(one.tie_share);
  CHECK_FALSE(read(least_case()).size_request.rank_by);
}

TEST_CASE("a ranking rule outside its range is named with what is allowed") {
  CHECK(says(with_rule(R"({"strap_step_mm": 31})"), "/sizes/strap_step_mm", "0 to 30 mm"));
  CHECK(says(with_rule(R"({"strap_step_mm": -1})"), "/sizes/strap_step_mm", "0 to 30 mm"));
  CHECK(says(with_rule(R"({"seals_in_share": 1.1})"), "/sizes/seals_in_share", "0 to 1"));
  CHECK(says(with_rule(R"({"tie_share": 0})"), "/sizes/tie_share", "0.01 to 1"));
  CHECK(says(with_rule(R"({"rank_by": "leek"})"), "/sizes/rank_by", "leak"));
  CHECK(says(with_rule(R"({"rank": "leak"})"), "/sizes/rank", "rank_by"));
}
