// The look that a screen follows a hand with: as the fit, and the same whatever was looked at
// before.
#include "job/look.hpp"

#include <cmath>

#include "case/sample_files.hpp"
#include "catch.hpp"

using namespace rimload;
using nlohmann::json;

namespace {

JobOutput look_at(Looker& looker, const json& document) {
  return looker.look({"case.json"}, sample_disk({{"case.json", document.dump()}}));
}
const std::string* file_of(const JobOutput& out, const std::string& name) {
  for (const NamedBytes& file : out.files) {
    if (file.name == name) return &file.bytes;
  }
  return nullptr;
}
json result_of(const JobOutput& out) { return json::parse(*file_of(out, "result.json")); }

// Sensor readings and margins of all phases, one after the other.
std::vector<double> readings(const json& result) {
  std::vector<double> out;
  for (const json& phase : result.at("phases")) {
    for (const json& site : phase.at("sites")) out.push_back(site.value("sensor_mmHg", 0.0));
    out.push_back(phase.at("seal").at("weakest_margin_cmH2O"));
  }
  return out;
}
double farthest(const std::vector<double>& a, const std::vector<double>& b) {
  REQUIRE(a.size() == b.size());
  double out = 0;
  for (std::size_t k = 0; k < a.size(); ++k) out = std::max(out, std::abs(a[k] - b[k]));
  return out;
}
json with_straps(double tension_n) {
  json document = full_case();
  document["straps"] = {{"tension_N", tension_n}};
  return document;
}

}  // namespace

TEST_CASE("a look finds what a fit finds, wherever the looks before it started from") {
  Looker looker;
  REQUIRE(look_at(looker, with_straps(4)).end == JobEnd::done);
  REQUIRE(look_at(looker, with_straps(6)).end == JobEnd::done);
  REQUIRE(look_at(looker, with_straps(5)).end == JobEnd::done);
  const JobOutput warm = looker.tell();
  REQUIRE(warm.end == JobEnd::done);
  const JobOutput fit = run_job(FitRequest{.case_file = "case.json", .pictures = false},
                                sample_disk({{"case.json", with_straps(5).dump()}}));
  REQUIRE(fit.end == JobEnd::done);
  // Balances found from two sides differ by what the solver leaves: 1e-6 N over cm2.
  CHECK(farthest(readings(result_of(warm)), readings(result_of(fit))) < 1e-4);
  CHECK(warm.printed == fit.printed);
  const json places = result_of(fit).at("dressing_places");
  REQUIRE_FALSE(places.empty());
  CHECK(result_of(warm).at("dressing_places").size() == places.size());
  CHECK(json::parse(*file_of(warm, "places.json")).size() == places.size());
}

TEST_CASE("the skin is sent once a face, the field with every look") {
  Looker looker;
  const JobOutput first = look_at(looker, with_straps(4));
  const JobOutput second = look_at(looker, with_straps(5));
  REQUIRE(file_of(first, "skin.bin") != nullptr);
  CHECK(file_of(second, "skin.bin") == nullptr);
  const json scene = json::parse(*file_of(second, "scene.json"));
  const std::size_t n_skin =
      scene.at("skin").at("n_u").get<std::size_t>() * scene.at("skin").at("n_v").get<std::size_t>();
  CHECK(file_of(first, "skin.bin")->size() == n_skin * 7 * sizeof(float));
  const std::size_t n_field = scene.at("field").at("n_u").get<std::size_t>() *
                              scene.at("field").at("n_v").get<std::size_t>();
  CHECK(file_of(second, "field.bin")->size() == 4 * n_field);
  CHECK(scene.at("rim") == with_straps(5).at("sampling").at("stations"));
  REQUIRE(scene.at("straps").size() == 4);
  std::size_t n_rows = scene.at("rim").get<std::size_t>();
  for (const json& strap : scene.at("straps")) n_rows += strap.get<std::size_t>();
  CHECK(file_of(second, "lines.bin")->size() == n_rows * 9 * sizeof(float));

  json other = with_straps(5);
  other["face"] = {{"model", "large"}};
  const JobOutput third = look_at(looker, other);
  REQUIRE(third.end == JobEnd::done);
  CHECK(file_of(third, "skin.bin") != nullptr);
}

TEST_CASE("while a hand moves the picture is coarser, and what is told is of the look at rest") {
  Looker looker;
  const auto moving = [&](const json& document) {
    return looker.look({"case.json", true}, sample_disk({{"case.json", document.dump()}}));
  };
  const auto scene_of = [](const JobOutput& out) {
    return json::parse(*file_of(out, "scene.json"));
  };
  const JobOutput at_rest = look_at(looker, with_straps(4));
  const std::string told = looker.tell().printed;
  const JobOutput quick = moving(with_straps(5));
  REQUIRE(quick.end == JobEnd::done);
  CHECK(file_of(quick, "skin.bin") == nullptr);
  CHECK(scene_of(quick).at("rim") == moving_sampling.n_stations);
  CHECK(file_of(quick, "field.bin")->size() < file_of(at_rest, "field.bin")->size());
  CHECK(looker.tell().printed == told);

  // Another face while the hand moves, and the first one again: its skin is sent anew.
  json other = with_straps(5);
  other["face"] = {{"model", "large"}};
  CHECK(file_of(moving(other), "skin.bin") != nullptr);
  CHECK(file_of(look_at(looker, with_straps(5)), "skin.bin") != nullptr);
}

TEST_CASE("a look holds the dressings that are on, where they lie on the skin") {
  Looker looker;
  const JobOutput out = look_at(looker, with_straps(4));
  REQUIRE(out.end == JobEnd::done);
  const json worn = json::parse(*file_of(out, "scene.json")).at("worn");
  REQUIRE(worn.size() == 2);
  const json sold = json::parse(project_text("demo/catalogue/demo-dressings.json"));
  for (const json& dressing : sold.at("dressings")) {
    if (dressing.at("name") == "demo-thin-foam")
      CHECK(worn[0].at("thickness_mm") == dressing.at("thickness_mm"));
  }
  // On the wearer's right cheek; then on the chin, across the midline and lower.
  REQUIRE(worn[0].at("outline_chart_mm").size() > 8);
  double lowest_cheek = 0;
  for (const json& uv : worn[0].at("outline_chart_mm")) {
    CHECK(uv[0].get<double>() < -10);
    lowest_cheek = std::min(lowest_cheek, uv[1].get<double>());
  }
  double left = 0;
  double right = 0;
  double lowest_chin = 0;
  for (const json& uv : worn[1].at("outline_chart_mm")) {
    left = std::max(left, uv[0].get<double>());
    right = std::min(right, uv[0].get<double>());
    lowest_chin = std::min(lowest_chin, uv[1].get<double>());
  }
  CHECK(left > 5);
  CHECK(right < -5);
  CHECK(lowest_chin < lowest_cheek - 10);

  json bare = with_straps(4);
  bare["dressings"].erase("worn");
  CHECK(json::parse(*file_of(look_at(looker, bare), "scene.json")).at("worn").empty());
}

TEST_CASE("a case at fault is said, and the next look finds its answer") {
  Looker looker;
  REQUIRE(look_at(looker, with_straps(4)).end == JobEnd::done);
  json bad = with_straps(4);
  bad["hours_planned"] = -1;
  const JobOutput refused = look_at(looker, bad);
  CHECK(refused.end == JobEnd::input_at_fault);
  CHECK(refused.complaint.find("/hours_planned") != std::string::npos);
  CHECK(look_at(looker, with_straps(5)).end == JobEnd::done);
}

TEST_CASE("there is nothing to tell before a look") {
  Looker looker;
  CHECK(looker.tell().end == JobEnd::input_at_fault);
}
