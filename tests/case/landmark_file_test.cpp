#include "case/landmark_file.hpp"

#include <nlohmann/json.hpp>

#include "case/sample_files.hpp"
#include "catch.hpp"

using namespace rimload;

namespace {

constexpr const char* table =
    "name,side,x,y,z\n"
    "sellion,,0,0,0\n"
    "subnasale,midline,0,-49.8,9\n"
    "exocanthion,left,43.5,-2.5,-21\n"
    "exocanthion,right,-43.5,-2.5,-21\n";

nlohmann::json document() {
  return nlohmann::json::parse(R"({"rimload_landmarks": 1, "landmarks": [
    {"name": "sellion", "at_scan_units": [0, 0, 0]},
    {"name": "subnasale", "side": "midline", "at_scan_units": [0, -49.8, 9]},
    {"name": "exocanthion", "side": "left", "at_scan_units": [43.5, -2.5, -21]},
    {"name": "exocanthion", "side": "right", "at_scan_units": [-43.5, -2.5, -21]}]})");
}

std::vector<Fault> csv_faults(const std::string& text) {
  return faults_of([&] { (void)read_landmark_file(text, "marks.csv"); });
}
std::vector<Fault> json_faults(const nlohmann::json& json) {
  return faults_of([&] { (void)read_landmark_file(json.dump(), "marks.json"); });
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("a table and a JSON file of landmarks say the same") {
  const LandmarkFile from_table = read_landmark_file(table, "marks.CSV");
  const LandmarkFile from_json = read_landmark_file(document().dump(), "marks.json");
  REQUIRE(from_table.landmarks.size() == 4);
  REQUIRE(from_json.landmarks.size() == 4);
  for (std::size_t k = 0; k < 4; ++k) {
    CHECK(from_table.landmarks[k].name == from_json.landmarks[k].name);
    CHECK(from_table.landmarks[k].side == from_json.landmarks[k].side);
    CHECK(from_table.landmarks[k].position_scan == from_json.landmarks[k].position_scan);
  }
  CHECK(from_json.confirmed);
  CHECK(from_table.confirmed);
}

TEST_CASE("landmarks written are read back to the last bit, and stay unconfirmed") {
  LandmarkFile out = read_landmark_file(table, "marks.csv");
  out.landmarks[0].position_scan = {0.1, 1.0 / 3, -1e-7};
  out.confirmed = false;
  const LandmarkFile in = read_landmark_file(write_landmark_file(out), "marks.json");
  CHECK_FALSE(in.confirmed);
  REQUIRE(in.landmarks.size() == 4);
  CHECK(in.landmarks[0].position_scan == out.landmarks[0].position_scan);
  CHECK(in.landmarks[2].side == Side::left);
}

TEST_CASE("what is wrong with a table of landmarks is named by line and column") {
  const auto unknown = csv_faults(replaced(table, "subnasale", "subnasal"));
  INFO(listed(unknown));
  CHECK(names(unknown, "line 3, column 'name'", "nearest valid name: 'subnasale'"));
  CHECK(unknown.front().file == "marks.csv");
  CHECK(names(csv_faults(replaced(table, "sellion,,", "sellion,left,")), "line 2, column 'side'",
              "allowed: midline"));
  CHECK(names(csv_faults(replaced(table, "-49.8", "49 mm")), "line 3, column 'y'",
              "'49 mm' is not a number"));
  CHECK(names(csv_faults(replaced(table, "-49.8", "1e9")), "line 3, column 'y'", "from -1e6"));
  CHECK(names(csv_faults(replaced(table, "right,", "left,")), "line 5", "given twice"));
  CHECK(names(csv_faults(replaced(table, "side", "Side")), "line 1", "needed: name,side,x,y,z"));
  CHECK(names(csv_faults(replaced(table, "sellion,,0,0,0\n", "")), "", "needed: 4 or more"));
  CHECK(names(csv_faults(""), "line 1", ""));
}

TEST_CASE("what is wrong with a JSON file of landmarks is named by its pointer") {
  nlohmann::json unknown = document();
  unknown["landmarks"][1]["name"] = "subnasal";
  CHECK(names(json_faults(unknown), "/landmarks/1/name", "nearest valid name: 'subnasale'"));
  nlohmann::json side = document();
  side["landmarks"][0]["side"] = "left";
  CHECK(names(json_faults(side), "/landmarks/0/side", "allowed: midline"));
  nlohmann::json twice = document();
  twice["landmarks"][3]["side"] = "left";
  CHECK(names(json_faults(twice), "/landmarks/3", "given twice"));
  nlohmann::json few = document();
  few["landmarks"].erase(0);
  CHECK_FALSE(json_faults(few).empty());
  nlohmann::json flat = document();
  flat["landmarks"][0]["at_scan_units"] = {1, 2};
  CHECK_FALSE(json_faults(flat).empty());
}
