// The strap window: its files and its words.
#include <algorithm>
#include <regex>
#include <sstream>

#include "case/sample_files.hpp"
#include "catch.hpp"
#include "job/job.hpp"
#include "job/printed.hpp"
#include "stored_face.hpp"

using namespace rimload;
using nlohmann::json;

namespace {
// Lines of a paragraph joined.
std::string unwrapped(std::string text) {
  for (std::size_t at = 0; (at = text.find("\n  ", at)) != std::string::npos;) {
    text.replace(at, 3, " ");
  }
  return text;
}
// The number between two pieces of text.
double number_between(const std::string& text, const std::string& before,
                      const std::string& after) {
  const std::regex pattern(before + R"(([0-9.]+))" + after);
  std::smatch found;
  INFO(before << " ... " << after << " in\n" << text);
  REQUIRE(std::regex_search(text, found, pattern));
  return std::stod(found[1]);
}
json demo_case(const char* name) {
  return json::parse(project_text(std::string("demo/cases/") + name + ".json"));
}
// What is printed of a case that stands among the demonstration ones.
std::string printed(const json& input) {
  const ReadFile disk = [&](const std::string& path) {
    return path == "demo/cases/test.json" ? input.dump() : stored_text(path);
  };
  const JobOutput out = run_job(StrapsRequest{"demo/cases/test.json"}, disk);
  INFO(out.complaint);
  REQUIRE(out.end == JobEnd::done);
  CHECK(lines_of(out.printed) <= 25);
  return unwrapped(out.printed);
}
}  // namespace

TEST_CASE("the strap window comes as a picture, a table and words") {
  json small = full_case();
  small["sampling"] = {{"stations", 120}, {"across", 5}};
  const JobOutput out =
      run_job(StrapsRequest{"case.json"}, sample_disk({{"case.json", small.dump()}}));
  INFO(out.complaint);
  REQUIRE(out.end == JobEnd::done);
  REQUIRE(out.files.size() == 2);
  CHECK(out.files[0].name == "strap-window.png");
  CHECK(out.files[0].bytes.substr(1, 3) == "PNG");
  CHECK(out.files[1].name == "strap-window.csv");
  CHECK(lines_of(out.printed) <= 25);
  CHECK(holds(out.printed, "not a medical device"));
  // Every row has as many cells as the head.
  const std::string& table = out.files[1].bytes;
  const auto commas = [](const std::string& line) {
    return std::count(line.begin(), line.end(), ',');
  };
  std::istringstream rows(table);
  std::string head;
  std::getline(rows, head);
  CHECK(holds(head, "sweep,upper_N,lower_N,travel_mm,seated,least_margin_cmH2O,weakest_site,"));
  CHECK(holds(head, "nasal_bridge_mmHg"));
  int n = 0;
  for (std::string row; std::getline(rows, row); ++n) CHECK(commas(row) == commas(head));
  CHECK(n >= 40);
}

TEST_CASE("a strap window of a case at fault is refused with every fault") {
  json bad = full_case();
  bad["leak_target_L_min"] = 150;
  bad["posture"] = "standing";
  const JobOutput out = run_job(StrapsRequest{"bad.json"}, sample_disk({{"bad.json", bad.dump()}}));
  CHECK(out.end == JobEnd::input_at_fault);
  CHECK(out.files.empty());
  CHECK(holds(out.complaint, "/posture"));
  CHECK(holds(out.complaint, "/leak_target_L_min"));
}

TEST_CASE("the words of a strap window say order, finger check, crease and what was tried out") {
  const std::string text = printed(demo_case("first-fit"));
  CHECK(holds(text, "Seals from "));
  CHECK(holds(text,
              "is pressed 25 % harder than at just sealed (a convention of this project, no "
              "published limit; sites that read less than half"));
  CHECK(holds(text, "Order: lower pair first, both sides in turn, then the upper pair"));
  CHECK(holds(text, "Finger check: "));
  CHECK(holds(text, "Above the window the lip can crease"));
  CHECK(holds(text, "Other sizes on this face: size S "));
  CHECK(holds(text, "With 2 cmH2O less in inspiration: "));
  // A shaved face without a tube, and with nothing on.
  for (const char* absent :
       {"shave", "port", "hair", "Without the dressing", "With dressings on"}) {
    CHECK_FALSE(holds(text, absent));
  }
}

TEST_CASE("the reading at just sealed is one number, wherever it is told") {
  const std::string text = printed(demo_case("nasal-cpap"));
  const double told = number_between(text, "is pressed hardest: ", " mmHg over 1 cm2");
  CHECK(number_between(text, "instead of ", " mmHg at the worst site") == told);
}

TEST_CASE("hair and tube are named with the leak without them, the window stays") {
  const std::string text = printed(demo_case("beard-and-tube"));
  const double with_all = number_between(text, "Mean leak just sealed ", " L/min");
  const double shaved = number_between(text, " L/min: ", " with a strip shaved beneath the rim");
  const double ported = number_between(text, ", ", " with a sealed port for the tube");
  const double both = number_between(text, ", ", " with both");
  CHECK(both < shaved);
  CHECK(shaved < with_all);
  CHECK(both < ported);
  CHECK(ported < with_all);
  CHECK(holds(text, "what leaks (hair, the tube) is not ended by tightening"));
  json bare = demo_case("beard-and-tube");
  bare.erase("beard");
  bare.erase("tube");
  const std::string without = printed(bare);
  CHECK(number_between(without, "Seals from ", " N") == number_between(text, "Seals from ", " N"));
  CHECK_FALSE(holds(without, "Mean leak"));
}

TEST_CASE("a mouth that opens under a nasal mask is named with the leak while it is closed") {
  json input = demo_case("nasal-cpap");
  CHECK_FALSE(holds(printed(input), "with the mouth closed"));
  input["mouth"] = "mouth_breather";
  const std::string text = printed(input);
  CHECK(number_between(text, " L/min: ", " with the mouth closed") <
        number_between(text, "Mean leak just sealed ", " L/min"));
}

TEST_CASE("dressings worn count: straps and fit tell the same window, and the one without them") {
  json input = demo_case("first-fit");
  const std::string bare = printed(input);
  input["dressings"] = {{"catalogue", "../catalogue/demo-dressings.json"},
                        {"worn",
                         {{{"site", "nasal_bridge"}, {"dressing", "demo-bordered-foam"}},
                          {{"site", "forehead"}, {"dressing", "demo-film"}}}}};
  const std::string text = printed(input);
  CHECK(holds(text, "With dressings on: demo-bordered-foam at the nasal bridge."));
  CHECK(holds(text, "Left aside: demo-film at the forehead, where the mask does not press"));
  const double seals = number_between(text, "Seals from ", " N");
  const double tight = number_between(text, "Too tight from ", " N");
  CHECK(seals > 1.3 * number_between(bare, "Seals from ", " N"));
  const ReadFile disk = [&](const std::string& path) {
    return path == "demo/cases/test.json" ? input.dump() : stored_text(path);
  };
  const JobOutput fit =
      run_job(FitRequest{.case_file = "demo/cases/test.json", .pictures = false}, disk);
  REQUIRE(fit.end == JobEnd::done);
  const std::string note = json::parse(fit.files.at(0).bytes).at("inputs").at("straps").at("note");
  CHECK(number_between(note, "seals from ", " N") == seals);
  CHECK(number_between(note, "too tight from ", " N") == tight);
  CHECK(number_between(text, "Without the dressing: ", " to") ==
        number_between(bare, "Seals from ", " N"));
}

TEST_CASE("a catalogue of dressings is tried where the window ends, films left aside") {
  json input = demo_case("first-fit");
  input["dressings"] = {{"catalogue", "../catalogue/demo-dressings.json"}};
  const std::string text = printed(input);
  CHECK(holds(text, "With a dressing on the "));
  CHECK(holds(text, "demo-thin-foam "));
  CHECK_FALSE(holds(text, "demo-film"));
}

TEST_CASE("a window that the limit closes is told by how much, and whether straps open it") {
  json input = demo_case("first-fit");
  input["dressing_rule"] = {{"sensor_above_mmHg", 50}};
  const std::string text = printed(input);
  const double reads =
      number_between(text, "There is no window: just sealed, the nasal bridge reads ", " mmHg");
  const double above = number_between(text, " mmHg, ", " mmHg above the limit set, 50 mmHg");
  CHECK(reads - above == Approx(50).margin(1));
  CHECK(holds(text, "Nor do straps set apart open it: at best "));
  CHECK(holds(text, "too tight already"));

  input = demo_case("nasal-cpap");  // set apart, its straps press a quarter less
  input["safety"] = demo_case("first-fit")["safety"];
  input["dressing_rule"] = {{"sensor_above_mmHg", 24}};
  const std::string opened = printed(input);
  CHECK(number_between(opened, "Straps set apart as below open it: ", " mmHg at most") <= 24);
  CHECK(holds(opened, "Separate straps, upper at "));
}

TEST_CASE("a limit that is set ends the window alone, in the words of straps and of fit") {
  json input = demo_case("first-fit");
  input["dressing_rule"] = {{"sensor_above_mmHg", 200}};
  const std::string text = printed(input);
  CHECK(holds(text, "the nasal bridge passes the limit set, 200 mmHg"));
  CHECK_FALSE(holds(text, "25 %"));
  input["dressing_rule"] = {{"sensor_above_mmHg", 300}};
  CHECK(holds(printed(input), "the limit set, 300 mmHg"));
}
