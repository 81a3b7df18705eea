// The facade: commands and texts in, named bytes and words out.
#include "job/job.hpp"

#include <set>

#include "case/sample_files.hpp"
#include "catch.hpp"
#include "job/printed.hpp"
#include "stored_face.hpp"

using namespace rimload;
using nlohmann::json;

namespace {
// Cells of each line of a table, commas within quotes left aside.
std::set<int> cells_of(const std::string& table) {
  std::set<int> out;
  int cells = 1;
  bool quoted = false;
  for (const char c : table) {
    if (c == '"') quoted = !quoted;
    if (c == ',' && !quoted) ++cells;
    if (c != '\n') continue;
    out.insert(cells);
    cells = 1;
  }
  return out;
}
}  // namespace

TEST_CASE("checking sound files says what each of them is") {
  const ReadFile disk = sample_disk({{"case.json", full_case().dump()}});
  const JobOutput out = run_job(CheckRequest{{"case.json", "cushions.json", "face.json"}}, disk);
  CHECK(out.end == JobEnd::done);
  CHECK(out.complaint.empty());
  CHECK(out.files.empty());
  CHECK(holds(out.printed, "case.json: a sound case, 'every key': test-oronasal medium on "));
  CHECK(holds(out.printed, "cushions.json: a sound catalogue, 4 cushions and sizes\n"));
  CHECK(holds(out.printed, "face.json: a sound face, 'reference', "));
}

TEST_CASE("checking goes on after a fault and lists every fault of every file") {
  json bad = full_case();
  bad["hours_planned"] = -1;
  bad["posture"] = "standing";
  const ReadFile disk =
      sample_disk({{"bad.json", bad.dump()}, {"what.json", "{}"}, {"cut.json", "{"}});
  const JobOutput out = run_job(
      CheckRequest{{"bad.json", "none.json", "what.json", "cut.json", "cushions.json"}}, disk);
  CHECK(out.end == JobEnd::input_at_fault);
  CHECK(holds(out.printed, "bad.json: /hours_planned: -1 h is out of range; allowed: 0 to 72 h\n"));
  CHECK(holds(out.printed, "bad.json: /posture: \"standing\" is not one of seated, "));
  CHECK(holds(out.printed, "none.json: there is no such file\n"));
  CHECK(holds(out.printed, "what.json: can't tell what this file is"));
  CHECK(holds(out.printed, "cut.json: line 1, column 1: this is no JSON"));
  CHECK(holds(out.printed, "cushions.json: a sound catalogue"));
  CHECK(holds(out.printed, "\n5 faults\n"));
  CHECK(lines_of(out.printed) == 7);
}

TEST_CASE("a face is written as a mesh from a model's name and from a file alike") {
  const ReadFile disk = sample_disk();
  for (const auto& [format, name] : {std::pair{MeshFormat::ply, "face.ply"},
                                     {MeshFormat::obj, "face.obj"},
                                     {MeshFormat::stl, "face.stl"}}) {
    const JobOutput by_name = run_job(FaceRequest{"reference", format, 4}, disk);
    const JobOutput by_file = run_job(FaceRequest{"face.json", format, 4}, disk);
    REQUIRE(by_name.end == JobEnd::done);
    REQUIRE(by_name.files.size() == 1);
    CHECK(by_name.files[0].name == name);
    CHECK(by_name.files[0].bytes.size() > 10000);
    REQUIRE(by_file.files.size() == 1);
    CHECK((by_file.files[0].bytes == by_name.files[0].bytes));
  }
}

TEST_CASE("a face that is not there is input at fault, with the nearest name") {
  const JobOutput out = run_job(FaceRequest{"smal", MeshFormat::ply, 1}, sample_disk());
  CHECK(out.end == JobEnd::input_at_fault);
  CHECK(out.complaint == "there is no face model 'smal'; nearest valid name: 'small'\n");
  CHECK(out.files.empty());
}

TEST_CASE("a mesh spacing out of range is refused, one that is no number too") {
  for (const double spacing : {0.0, -1.0, 0.19, 20.1, 1e300, std::nan("")}) {
    const JobOutput out = run_job(FaceRequest{"small", MeshFormat::ply, spacing}, sample_disk());
    CHECK(out.end == JobEnd::input_at_fault);
    CHECK(holds(out.complaint, "allowed: 0.2 to 20 mm"));
  }
}

TEST_CASE("each schema is printed whole, and is JSON of draft-07") {
  for (const std::string name :
       {"case", "catalogue", "face", "dressings", "measurements", "columns", "landmarks"}) {
    const JobOutput out = run_job(SchemaRequest{name}, sample_disk());
    CHECK(out.end == JobEnd::done);
    CHECK(json::parse(out.printed).at("$schema") == "http://json-schema.org/draft-07/schema#");
  }
  CHECK(run_job(SchemaRequest{"cases"}, sample_disk()).end == JobEnd::input_at_fault);
}

TEST_CASE("a case at fault is not fitted: every fault is in the complaint, one a line") {
  json bad = full_case();
  bad["hours_planned"] = -1;
  bad["face"] = {{"model", "nobody"}};
  const JobOutput out = run_job(FitRequest{"bad.json"}, sample_disk({{"bad.json", bad.dump()}}));
  CHECK(out.end == JobEnd::input_at_fault);
  CHECK(out.files.empty());
  CHECK(out.printed.empty());
  CHECK(lines_of(out.complaint) == 2);
  CHECK(holds(out.complaint, "bad.json: /hours_planned: "));
  CHECK(holds(out.complaint, "bad.json: /face/model: "));
}

TEST_CASE("an exception that is not the input's fault is a failure of ours") {
  const ReadFile broken = [](const std::string&) -> std::string {
    throw std::runtime_error("the disk is on fire");
  };
  const JobOutput out = run_job(FitRequest{"case.json"}, broken);
  CHECK(out.end == JobEnd::our_failure);
  CHECK(out.complaint == "rimload failed: the disk is on fire\n");
}

TEST_CASE("a fit gives result.json and what else was asked for, the same bytes each time") {
  const std::string file = "demo/cases/first-fit.json";
  const ReadFile disk = [](const std::string& path) { return project_text(path); };
  const FitRequest plain{.case_file = file, .pictures = false, .samples = false};
  const JobOutput out = run_job(plain, disk);
  INFO(out.complaint);
  REQUIRE(out.end == JobEnd::done);
  REQUIRE(out.files.size() == 1);
  CHECK(out.files[0].name == "result.json");
  const json result = json::parse(out.files[0].bytes);
  CHECK(result.at("phases").size() == 2);
  CHECK_FALSE(result.at("cautions").empty());
  const JobOutput again =
      run_job({FitRequest{.case_file = file, .pictures = false, .samples = true}}, disk);
  REQUIRE(again.files.size() == 2);
  CHECK((again.files[0].bytes == out.files[0].bytes));
  CHECK(again.files[1].name == "samples.csv");
  CHECK(again.printed == out.printed);
}

TEST_CASE(
    "a slice comes as picture, table and words; a site without one is named with the choice") {
  const ReadFile disk = stored_text;
  const std::string file = "demo/cases/first-fit.json";
  const JobOutput out = run_job(SectionRequest{file, "nasal_bridge"}, disk);
  REQUIRE(out.end == JobEnd::done);
  REQUIRE(out.files.size() == 2);
  CHECK(out.files[0].name == "section.png");
  CHECK(out.files[0].bytes.starts_with("\x89PNG"));
  CHECK(out.files[1].name == "section.csv");
  CHECK(lines_of(out.files[1].bytes) > 20);
  CHECK(holds(out.printed, "slice at the nasal bridge"));
  CHECK(holds(out.printed, "Beyond small strain"));  // the demonstration's bridge peaks

  const JobOutput bare = run_job(SectionRequest{file, "forehead"}, disk);
  CHECK(bare.end == JobEnd::done);
  CHECK(bare.files.empty());
  CHECK(holds(bare.printed, "the rim does not press the forehead"));

  for (const char* site : {"ear_top", "tube", "eyelid", "elbow"}) {
    const JobOutput refused = run_job(SectionRequest{file, site}, disk);
    CHECK(refused.end == JobEnd::input_at_fault);
    CHECK(holds(refused.complaint, site));
    CHECK(holds(refused.complaint, "allowed: nasal_bridge, "));
  }
}

TEST_CASE("measuring gives a face file that a case can name, and tables") {
  const ReadFile disk = sample_disk({{"m.json", R"({"rimload_measurements": 1, "sex": "male",
      "age_years": 9, "nose_breadth_mm": 31})"}});
  const JobOutput out = run_job(MeasureRequest{"m.json"}, disk);
  INFO(out.complaint);
  REQUIRE(out.end == JobEnd::done);
  REQUIRE(out.files.size() == 3);
  CHECK(out.files[0].name == "face.json");
  CHECK(out.files[1].name == "measures.csv");
  CHECK(out.files[2].name == "landmark-bands.csv");
  CHECK(lines_of(out.printed) <= 15);
  const FaceModel face = read_face_file(out.files[0].bytes, "face.json");
  CHECK(face.child);
  CHECK(face.targets.size() == 1);
  const JobOutput check = run_job(CheckRequest{{"m.json"}}, disk);
  CHECK(check.printed == "m.json: sound, 1 measurement of a face among boys of 9 years\n");
}

TEST_CASE("a case is measured by what it gives of its wearer; one that gives nothing is refused") {
  const ReadFile disk = stored_text;
  const JobOutput out = run_job(MeasureRequest{"demo/cases/measured-wearer.json", true}, disk);
  REQUIRE(out.end == JobEnd::done);
  REQUIRE(out.files.size() == 4);
  CHECK(out.files[3].name == "measuring-guide.png");
  CHECK(out.files[3].bytes.starts_with("\x89PNG"));
  const JobOutput none = run_job(MeasureRequest{"demo/cases/first-fit.json"}, disk);
  CHECK(none.end == JobEnd::input_at_fault);
  CHECK(holds(none.complaint, "/face: the case gives no measurements"));
}

TEST_CASE("the measuring guide needs no file; nothing at all is refused") {
  const JobOutput guide = run_job(MeasureRequest{"", true}, sample_disk());
  REQUIRE(guide.files.size() == 1);
  CHECK(guide.files[0].name == "measuring-guide.png");
  CHECK(holds(guide.printed, "sellion_supramentale_mm"));
  CHECK(run_job(MeasureRequest{}, sample_disk()).end == JobEnd::input_at_fault);
}

TEST_CASE("mistyped measurements end as input at fault, every question in the complaint") {
  const JobOutput out =
      run_job(MeasureRequest{"m.json"}, sample_disk({{"m.json", R"({"rimload_measurements": 1,
      "nose_breadth_mm": 3.5, "face_width_cm": 139})"}}));
  CHECK(out.end == JobEnd::input_at_fault);
  CHECK(out.files.empty());
  CHECK(lines_of(out.complaint) == 2);
  CHECK(holds(out.complaint, "m.json: /nose_breadth_mm: "));
  CHECK(holds(out.complaint, "m.json: /face_width_cm: "));
}

TEST_CASE("choosing dressings gives a table, pictures and templates, and says why") {
  const JobOutput out = run_job(DressingRequest{"demo/cases/first-fit.json"}, stored_text);
  INFO(out.complaint);
  REQUIRE(out.end == JobEnd::done);
  REQUIRE_FALSE(out.files.empty());
  CHECK(out.files[0].name == "dressings.csv");
  CHECK(holds(out.files[0].bytes, "nasal bridge"));
  CHECK(cells_of(out.files[0].bytes).size() == 1);
  CHECK(holds(out.printed, "Chosen: "));
  CHECK(holds(out.printed, "Trials disagree on dressings"));
  CHECK(lines_of(out.printed) <= 25);
  std::set<std::string> kinds;
  for (const NamedBytes& file : out.files) {
    kinds.insert(file.name.substr(file.name.find_last_of('.')));
    CHECK(file.bytes.size() > 1000);
  }
  CHECK(kinds == std::set<std::string>{".csv", ".pdf", ".png", ".svg"});
}

TEST_CASE("a case without a catalogue of dressings is told what is missing") {
  const JobOutput out = run_job(DressingRequest{"demo/cases/nasal-cpap.json"}, stored_text);
  CHECK(out.end == JobEnd::input_at_fault);
  CHECK(holds(out.complaint, "/dressings: missing"));
}

namespace {
// Lines of a paragraph joined.
std::string unwrapped(std::string text) {
  for (std::size_t at = 0; (at = text.find("\n  ", at)) != std::string::npos;) {
    text.replace(at, 3, " ");
  }
  return text;
}
}  // namespace

TEST_CASE("ranking cushions gives a picture, a table and words") {
  json small = full_case();
  small["sampling"] = {{"stations", 120}, {"across", 5}};
  small.erase("injured_skin");
  std::vector<int> told;
  const JobOutput out = run_job(SizesRequest{.case_file = "case.json", .n_draws = 2},
                                sample_disk({{"case.json", small.dump()}}), [&](int done, int all) {
                                  CHECK(all == 6);  // four cushions, two draws
                                  told.push_back(done);
                                });
  INFO(out.complaint);
  REQUIRE(out.end == JobEnd::done);
  CHECK(told == std::vector{1, 2, 3, 4, 5, 6});
  REQUIRE(out.files.size() == 3);
  CHECK(out.files[0].name == "sizes.csv");
  CHECK(lines_of(out.files[0].bytes) == 5);  // a head and four cushions
  CHECK(cells_of(out.files[0].bytes).size() == 1);
  CHECK(out.files[1].name == "rotation.csv");
  CHECK(cells_of(out.files[1].bytes).size() == 1);
  CHECK(out.files[2].bytes.starts_with("\x89PNG"));
  CHECK(lines_of(out.printed) <= 25);
  CHECK(holds(unwrapped(out.printed), "then the widest strap window"));
  CHECK(holds(unwrapped(out.printed), "Set by the case."));

  small["sizes"] = json{{"tie_share", 0.5}};
  const JobOutput part = run_job(SizesRequest{.case_file = "case.json", .n_draws = 0},
                                 sample_disk({{"case.json", small.dump()}}));
  INFO(part.complaint);
  CHECK(holds(unwrapped(part.printed), "then the least worst reading"));
  CHECK(holds(unwrapped(part.printed), "reversed in 50 % of the draws"));
  CHECK(holds(unwrapped(part.printed), "Set by the case: tie_share; the rest is a convention"));
}

TEST_CASE("the page is written whole, or what it takes is said") {
  const JobOutput out = run_job(PageRequest{}, sample_disk());
  if (out.end == JobEnd::done) {
    REQUIRE(out.files.size() == 1);
    CHECK(out.files[0].name == "rimload.html");
    CHECK(out.files[0].bytes.starts_with("<!doctype html>"));
    CHECK(holds(out.files[0].bytes, "default-src 'none'"));
    CHECK(out.files[0].bytes.ends_with("</html>\n"));
  } else {
    CHECK(out.end == JobEnd::our_failure);
    CHECK(holds(out.complaint, ".setup/page"));
  }
}

namespace {
json seen_case(const std::string& seen) {
  json out = least_case();
  out["straps"] = {{"tension_N", 3}};
  out["sampling"] = {{"stations", 120}, {"across", 5}};
  out["seen"] = json::parse(seen);
  return out;
}
JobOutput run_seen_case(const json& input) {
  return run_job(SeenRequest{.case_file = "case.json", .n_draws = 40},
                 sample_disk({{"case.json", input.dump()}}));
}
}  // namespace

TEST_CASE("what was seen gives a table and words, before beside after") {
  const JobOutput out = run_job(
      SeenRequest{.case_file = "demo/cases/seen-at-bedside.json", .n_draws = 40}, stored_text);
  INFO(out.complaint);
  REQUIRE(out.end == JobEnd::done);
  REQUIRE(out.files.size() == 1);
  CHECK(out.files[0].name == "seen.csv");
  CHECK(cells_of(out.files[0].bytes) == std::set<int>{11});
  CHECK(lines_of(out.files[0].bytes) == 13);  // a head, seven of the case, five of what was seen
  CHECK(lines_of(out.printed) <= 25);
  CHECK(holds(out.printed, "not evidence of safety"));
  CHECK(holds(out.printed, " before, "));
  CHECK_FALSE(holds(out.printed, "contradicts"));
}

TEST_CASE("a leak that no draw foresees is called a contradiction, and nothing after is printed") {
  const JobOutput out = run_seen_case(seen_case(R"([{"leak_L_min": 200,
      "straps": {"tension_N": 6}}])"));
  INFO(out.complaint);
  REQUIRE(out.end == JobEnd::done);
  CHECK(holds(out.printed, "The face contradicts the model: a leak of 200 L/min"));
  CHECK(holds(out.printed, "hair under the rim"));
  CHECK_FALSE(holds(out.printed, " after."));
  CHECK(holds(out.files[0].bytes, ",contradicts\n"));
}

TEST_CASE("skin seen to be injured is off-loaded and called for, whatever else was seen") {
  const JobOutput out = run_seen_case(seen_case(R"([{"skin_after_h": 4,
      "skin": [{"site": "nasal_bridge", "state": "red_does_not_blanch"}]}])"));
  REQUIRE(out.end == JobEnd::done);
  CHECK(holds(out.printed, "STOP: Skin at the nasal bridge"));
  CHECK(holds(out.printed, "This is injury: off-load the site, change the interface, call"));
}

TEST_CASE("a case that tells nothing seen is told what is missing") {
  const JobOutput out = run_job(SeenRequest{"demo/cases/nasal-cpap.json"}, stored_text);
  CHECK(out.end == JobEnd::input_at_fault);
  CHECK(holds(out.complaint, "/seen: missing"));
}
