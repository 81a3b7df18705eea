// What a case says was seen at the bedside.
#include "case/read_seen.hpp"

#include "case/sample_files.hpp"
#include "catch.hpp"
#include "units/units.hpp"

using namespace rimload;
using nlohmann::json;

namespace {

json with_seen(const std::string& seen) {
  json out = least_case();
  out["seen"] = json::parse(seen);
  return out;
}

Case read(const json& document) { return read_case(document.dump(), "case.json", sample_disk()); }

bool says(const json& document, const std::string& path, const std::string& words) {
  for (const Fault& fault : case_faults(document)) {
    if (fault.file == "case.json" && fault.path == path &&
        fault.message.find(words) != std::string::npos) {
      return true;
    }
  }
  return false;
}

}  // namespace

TEST_CASE("every value of what was seen is read, in the units inside") {
  const Case in = read(full_case());
  REQUIRE(in.seen.size() == 2);
  const Observation& first = in.seen[0];
  CHECK(first.strap_change_mm == -10);
  CHECK(first.straps.tension_n.empty());
  CHECK_FALSE(first.straps.word);
  REQUIRE(first.leak);
  CHECK(units::to_l_per_min(*first.leak) == Approx(12).epsilon(1e-14));
  CHECK(first.doubt == 0.25);
  CHECK(first.finger == FingerCheck::two_fingers);
  CHECK(first.skin.empty());
  const Observation& second = in.seen[1];
  CHECK(second.straps.tension_n == std::vector<double>{2, 2, 3, 3});
  CHECK_FALSE(second.leak);
  CHECK_FALSE(second.finger);
  CHECK(second.skin_after_h == 4);
  REQUIRE(second.skin.size() == 2);
  CHECK(second.skin[0].site == SidedSite{Site::chin, Side::midline});
  CHECK(second.skin[0].state == SkinState::red_blanches);
  CHECK(second.skin[1].site == SidedSite{Site::cheekbone, Side::right});
}

TEST_CASE("skin seen to be injured is injured skin for every command") {
  const Case in = read(with_seen(
      R"([{"skin_after_h": 4, "skin": [{"site": "nasal_bridge", "state": "red_does_not_blanch"},
                                       {"site": "chin", "state": "red_blanches"}]}])"));
  CHECK(in.safety.injured_sites == std::vector<SidedSite>{{Site::nasal_bridge, Side::midline}});
  CHECK(in.safety.skin_checked == true);
}

TEST_CASE("what is wrong in what was seen is named by its place") {
  CHECK(says(with_seen("[{}]"), "/seen/0", "tells nothing"));
  CHECK(says(with_seen(R"([{"leak_L_min": 3}, {"leak_L_min": -1}])"), "/seen/1/leak_L_min",
             "-1 L/min is out of range; allowed: 0 to 200 L/min"));
  CHECK(says(with_seen(R"([{"finger": "two_fingers", "leak_doubt_percent": 20}])"),
             "/seen/0/leak_doubt_percent", "goes with leak_L_min"));
  CHECK(says(with_seen(R"([{"leak_L_min": 3, "leak_doubt_percent": 1}])"),
             "/seen/0/leak_doubt_percent", "1 % is out of range; allowed: 5 to 200 %"));
  CHECK(says(with_seen(R"([{"leak_L_min": 3, "straps": {"change_mm": 5, "tension_N": 2}}])"),
             "/seen/0/straps", "not two"));
  CHECK(says(with_seen(R"([{"leak_L_min": 3, "straps": {"setting": "loose"}}])"),
             "/seen/0/straps/setting", "nasal"));
  CHECK(says(with_seen(R"([{"finger": "three_fingers"}])"), "/seen/0/finger", "not one of"));
  CHECK(says(with_seen(R"([{"skin": [{"site": "chin", "state": "unchanged"}]}])"),
             "/seen/0/skin_after_h", "missing"));
  CHECK(says(with_seen(R"([{"finger": "none", "skin_after_h": 4}])"), "/seen/0/skin_after_h",
             "goes with skin"));
  CHECK(says(with_seen(R"([{"skin_after_h": 4, "skin": [{"site": "cheek",
                            "state": "unchanged"}]}])"),
             "/seen/0/skin/0/side", "two sides"));
  CHECK(says(with_seen(R"([{"skin_after_h": 4, "skin": [{"site": "chin"}]}])"),
             "/seen/0/skin/0/state", "missing"));
}
