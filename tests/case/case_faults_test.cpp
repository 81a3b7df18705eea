// Cases at fault: the place and the words that help.
#include "case/sample_files.hpp"
#include "catch.hpp"

using namespace rimload;
using nlohmann::json;

namespace {
struct BadCase {
  const char* change;  ///< a JSON merge patch to the full case
  const char* path;
  const char* words;
};

const std::vector<BadCase> bad_cases{
    {R"({"rimload_case": 2})", "/rimload_case", "2 is not 1"},
    {R"({"name": ""})", "/name", "0 characters; allowed: at least 1"},
    {R"({"name": null})", "/name", "missing; needed: text"},
    {R"({"name": 7})", "/name", "7 is not text"},
    {R"({"hours_planed": 8})", "/hours_planed", "unknown key; nearest valid name: 'hours_planned'"},
    {R"({"hours_planned": 73})", "/hours_planned", "73 h is out of range; allowed: 0 to 72 h"},
    {R"({"hours_planned": "8"})", "/hours_planned", "\"8\" is not a number, 0 to 72 h"},
    {R"({"settings": {"inspiratory_cmH2O": 41}})", "/settings/inspiratory_cmH2O",
     "41 cmH2O is out of range; allowed: 3 to 40 cmH2O"},
    {R"({"settings": {"expiratory_cmH2O": 2.9}})", "/settings/expiratory_cmH2O",
     "2.9 cmH2O is out of range; allowed: 3 to 40 cmH2O"},
    {R"({"settings": {"inspiratory_cmH2O": 6}})", "/settings/inspiratory_cmH2O",
     "6 cmH2O is not above the expiratory pressure, 6 cmH2O"},
    {R"({"settings": {"expiratory_cmH2O": null}})", "/settings/expiratory_cmH2O", "missing"},
    {R"({"settings": {"cpap_cmH2O": 10}})", "/settings", "not both kinds"},
    {R"({"settings": {"cpap_cmh2o": 10}})", "/settings/cpap_cmh2o", "'cpap_cmH2O'"},
    {R"({"settings": null})", "/settings", "missing; needed: an object"},
    {R"({"settings": {"inspiratory_cmH2O": null, "expiratory_cmH2O": null}})", "/settings",
     "give cpap_cmH2O, or"},
    {R"({"settings": {"inspiratory_cmH2O": null, "expiratory_cmH2O": null, "cpap_cmH2O": 8}})",
     "/settings/inspiratory_fraction", "only bilevel"},
    {R"({"settings": {"inspiratory_fraction": 0.9}})", "/settings/inspiratory_fraction",
     "0.9 is out of range; allowed: 0.1 to 0.8"},
    {R"({"face": {"model": "referense"}})", "/face/model", "nearest valid name: 'reference'"},
    {R"({"face": {"file": "face.json"}})", "/face",
     "give one of model, file, measurements and scan, not two"},
    {R"({"face": {"model": null}})", "/face", "give a face model by name"},
    {R"({"face": {"model": null, "file": "no.json"}})", "/face/file",
     "'no.json': there is no such file"},
    {R"({"cushion": {"catalogue": "no.json"}})", "/cushion/catalogue", "there is no such file"},
    {R"({"cushion": {"name": "test-oranasal"}})", "/cushion/name",
     "no cushion 'test-oranasal'; nearest valid name: 'test-oronasal'"},
    {R"({"cushion": {"size": "medum"}})", "/cushion/size", "nearest valid name: 'medium'"},
    {R"({"cushion": {"size": "XXL"}})", "/cushion/size", "valid: small, medium, large"},
    {R"({"straps": {"setting": "in_window"}})", "/straps", "not both"},
    {R"({"straps": {"tension_N": null, "setting": "tigth"}})", "/straps/setting",
     "nearest valid name: 'tight'"},
    {R"({"straps": {"tension_N": null, "setting": "tight"}})", "/straps/setting",
     "published for nasal masks"},
    {R"({"straps": {"tension_N": 31}})", "/straps/tension_N",
     "31 N is out of range; allowed: 0 to 30 N"},
    {R"({"straps": {"tension_N": {"upper": -1}}})", "/straps/tension_N/upper",
     "-1 N is out of range; allowed: 0 to 30 N"},
    {R"({"straps": {"tension_N": {"uper": 3}}})", "/straps/tension_N/uper",
     "no strap 'uper'; nearest valid name: 'upper'"},
    {R"({"straps": {"tension_N": {"upper_left": 3}}})", "/straps/tension_N/upper_left",
     "'upper_left' is given a tension twice"},
    {R"({"straps": {"tension_N": {"lower_left": null}}})", "/straps/tension_N/lower_left",
     "missing; needed: a number, 0 to 30 N, or one for the pair 'lower'"},
    {R"({"posture": "semi-recumbent"})", "/posture", "nearest valid name: 'semi_recumbent'"},
    {R"({"circuit": "duallimb"})", "/circuit", "nearest valid name: 'dual_limb'"},
    {R"({"safety": {"vomiting": true}})", "/safety/vomiting", "unknown key"},
    {R"({"safety": {"vomiting_likely": "no"}})", "/safety/vomiting_likely",
     "\"no\" is not true or false"},
    {R"({"safety": {"skin_checked": false}})", "/safety/skin_checked", "injured_skin lists"},
    {R"({"injured_skin": [{"site": "bridge"}]})", "/injured_skin/0/site", "is not one of"},
    {R"({"injured_skin": [{"site": "cheek"}]})", "/injured_skin/0/side",
     "the cheek has two sides; needed: left or right"},
    {R"({"injured_skin": [{"site": "upper_lip", "side": "left"}]})", "/injured_skin/0/side",
     "the upper lip lies on the midline"},
    {R"({"placement": {"shift_left_mm": 21}})", "/placement/shift_left_mm",
     "21 mm is out of range; allowed: -20 to 20 mm"},
    {R"({"placement": {"turn_down_deg": -21}})", "/placement/turn_down_deg",
     "-21 degrees is out of range; allowed: -20 to 20 degrees"},
    {R"({"dressing_rule": {"sensor_above_mmHg": 0}})", "/dressing_rule/sensor_above_mmHg",
     "0 mmHg is out of range; allowed: 1 to 300 mmHg"},
    {R"({"beard": {"region": "neck"}})", "/beard/region",
     "\"neck\" is not one of moustache, cheek, chin, full"},
    {R"({"beard": {"density": "thick"}})", "/beard/density", "is not one of stubble, short, full"},
    {R"({"beard": {"hair_mm": -1}})", "/beard/hair_mm", "-1 mm is out of range; allowed: 0 to 30"},
    {R"({"beard": {"hair_mm": "long"}})", "/beard/hair_mm", "\"long\" is not a number, 0 to 30"},
    {R"({"beard": {"hair_mm": null}})", "/beard/hair_mm", "missing"},
    {R"({"beard": {"region": null}})", "/beard/region", "missing"},
    {R"({"beard": {"density": null}})", "/beard/density", "missing"},
    {R"({"beard": {"shaved_under_rim": "yes"}})", "/beard/shaved_under_rim",
     "\"yes\" is not true or false"},
    {R"({"beard": {"colour": "red"}})", "/beard/colour", "unknown key"},
    {R"({"beard": [1]})", "/beard", "array is not an object"},
    {R"({"tube": {"kind": "gastric"}})", "/tube/kind",
     "\"gastric\" is not one of nasogastric, orogastric"},
    {R"({"tube": {"side": "midline"}})", "/tube/side", "is not one of left, right"},
    {R"({"tube": {"size_Fr": 3}})", "/tube/size_Fr", "3 is out of range; allowed: 4 to 24"},
    {R"({"tube": {"size_Fr": "12"}})", "/tube/size_Fr", "\"12\" is not a number, 4 to 24"},
    {R"({"tube": {"size_Fr": null}})", "/tube/size_Fr", "missing"},
    {R"({"tube": {"path_mm": [[0, 0, 0]]}})", "/tube/path_mm", "1 entries; allowed: at least 2"},
    {R"({"tube": {"path_mm": [[0, 0, 0], [0, 0, 900]]}})", "/tube/path_mm/1/2",
     "900 mm is out of range; allowed: -300 to 300 mm"},
    {R"({"tube": {"path_mm": [[-24, -66, 12], [-50, -70, 100]]}})", "/tube/path_mm/1",
     "mm from the face's skin; allowed: 0 to 30 mm"},
    {R"({"tube": {"side": "left"}})", "/tube/path_mm/2",
     "x = -70 mm, where the tube ends, is on the wearer's right, yet its side is left"},
    {R"({"tube": {"path_mm": [[0, 0, 0], [0, 0, 0.5]]}})", "/tube/path_mm",
     "points 0 and 1 lie less than 1 mm apart"},
    {R"({"dentures": "upper"})", "/dentures", "\"upper\" is not one of in, out, loose"},
    {R"({"mouth": "open"})", "/mouth",
     "\"open\" is not one of closed, open_at_rest, mouth_breather"},
    {R"({"leak_target_L_min": 0})", "/leak_target_L_min", "out of range"},
    {R"({"leak_limit_L_min": 5})", "/leak_target_L_min",
     "8 L/min is above leak_limit_L_min, 5 L/min"},
    {R"({"leak_limit_L_min": 0})", "/leak_limit_L_min",
     "0 L/min is out of range; allowed: 1 to 200 L/min"},
    {R"({"sampling": {"stations": 100.5}})", "/sampling/stations", "100.5 is not a whole number"},
    {R"({"sampling": {"stations": 1e300}})", "/sampling/stations", "is not a whole number"},
    {R"({"sampling": {"across": 6}})", "/sampling/across", "6 is not one of 3, 5, 7"},
};
}  // namespace

TEST_CASE("the full case and the least case have no faults") {
  CHECK(listed(case_faults(full_case())).empty());
  CHECK(listed(case_faults(least_case())).empty());
}

TEST_CASE("each fault of a case is named by its place, with words that help, and alone") {
  for (const BadCase& bad : bad_cases) {
    json document = full_case();
    document.merge_patch(json::parse(bad.change));
    const auto faults = case_faults(document);
    INFO(bad.change << "\n" << listed(faults));
    CHECK(names(faults, bad.path, bad.words));
    CHECK(faults.size() == 1);
    for (const Fault& fault : faults) CHECK(fault.file == "case.json");
  }
}

TEST_CASE("a limit of leak alone lowers the target that the case leaves out") {
  json document = least_case();
  document["leak_limit_L_min"] = 8;
  CHECK(listed(case_faults(document)).empty());
  CHECK(read_case(document.dump(), "case.json", sample_disk()).leak_target_l_min == 8);
  document["leak_limit_L_min"] = 30;
  CHECK(read_case(document.dump(), "case.json", sample_disk()).leak_target_l_min == 10);
}

TEST_CASE("the usual way of a tube, given point by point, is one over the face") {
  for (const char* kind : {"nasogastric", "orogastric"}) {
    for (const Side side : {Side::left, Side::right}) {
      json document = least_case();
      document["tube"] = {{"kind", kind}, {"side", name_of(side)}, {"size_Fr", 12}};
      const Case input = read_case(document.dump(), "case.json", sample_disk());
      for (const Vec3& point : input.tube->path_face) {
        document["tube"]["path_mm"].push_back({point.x(), point.y(), point.z()});
      }
      CHECK(listed(case_faults(document)).empty());
      // The same way belongs to no tube on the other side.
      document["tube"]["side"] = name_of(side == Side::left ? Side::right : Side::left);
      CHECK(names(case_faults(document),
                  "/tube/path_mm/" + std::to_string(input.tube->path_face.size() - 1),
                  "where the tube ends"));
    }
  }
}

TEST_CASE("a strap word for nasal masks goes with a nasal mask, a window word does not") {
  json document = least_case();
  document["cushion"]["name"] = "test-nasal";
  document["straps"]["setting"] = "tight";
  CHECK(case_faults(document).empty());
  document["straps"]["setting"] = "in_window";
  const auto faults = case_faults(document);
  REQUIRE(faults.size() == 1);
  CHECK(names(faults, "/straps/setting", "give loose, appropriate or tight"));
}

TEST_CASE("faults of the schema, between keys, and in the files named are listed at once") {
  json document = full_case();
  document["hours_planned"] = 100;
  document["colour"] = "blue";
  document["settings"]["inspiratory_cmH2O"] = 5;
  document["face"] = {{"model", "nobody"}};
  document["placement"]["push_in_mm"] = "deep";
  json catalogue = test_catalogue();
  catalogue["cushions"][0]["friction"] = 9;
  catalogue["cushions"][1]["sizes"][0]["rim"][0]["at_mm"] = {1, 0, 0};
  const ReadFile disk = sample_disk({{"cushions.json", catalogue.dump()}});
  const auto faults = faults_of([&] { (void)read_case(document.dump(), "case.json", disk); });
  INFO(listed(faults));
  CHECK(names(faults, "/hours_planned", "out of range"));
  CHECK(names(faults, "/colour", "unknown key"));
  CHECK(names(faults, "/settings/inspiratory_cmH2O", "not above"));
  CHECK(names(faults, "/face/model", "nobody"));
  CHECK(names(faults, "/placement/push_in_mm", "is not a number, -20 to 20 mm"));
  CHECK(names(faults, "/cushions/0/friction", "allowed: 0.05 to 2"));
  CHECK(names(faults, "/cushions/1/sizes/0/rim/0", "midline"));
  const auto of_catalogue = std::count_if(faults.begin(), faults.end(), [](const Fault& fault) {
    return fault.file == "cushions.json";
  });
  CHECK(of_catalogue == 3);  // friction; x is not 0; not the origin
}

TEST_CASE(
    "a dressing that the catalogue lacks, a side that is missing and a missing file are named") {
  json document = full_case();
  document["dressings"]["worn"][0] = {{"site", "cheek"}, {"dressing", "demo-thin-foam"}};
  document["dressings"]["worn"][1]["dressing"] = "demo-fim";
  const auto faults = case_faults(document);
  CHECK(names(faults, "/dressings/worn/0/side", "two sides"));
  CHECK(names(faults, "/dressings/worn/1/dressing", "demo-film"));
  document = full_case();
  document["dressings"]["catalogue"] = "none.json";
  CHECK(names(case_faults(document), "/dressings/catalogue", "there is no such file"));
}

TEST_CASE("a dressing worn on injured skin is refused, however the injury is known") {
  json document = full_case();
  document["injured_skin"] = {{{"site", "chin"}}, {{"site", "cheek"}, {"side", "left"}}};
  document["seen"][1]["skin"] = {{{"site", "cheek"}, {"side", "right"}, {"state", "broken"}}};
  const auto faults = case_faults(document);
  CAPTURE(listed(faults));
  CHECK(faults.size() == 2);
  CHECK(names(faults, "/dressings/worn/1/site", "'chin': its skin is injured"));
  CHECK(names(faults, "/dressings/worn/1/site", "allowed: sites without injured skin"));
  CHECK(names(faults, "/dressings/worn/0/site", "off-load it and call"));
  document["dressings"]["worn"].erase(1);
  document["seen"][1]["skin"][0]["side"] = "left";
  CHECK(case_faults(document).empty());  // the other cheek may be dressed
}
