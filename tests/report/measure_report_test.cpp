#include "report/measure_report.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

#include "catch.hpp"
#include "fit/fit.hpp"
#include "report/finding.hpp"
#include "report/measuring_guide.hpp"
#include "report/result_json.hpp"
#include "stored_case.hpp"

using namespace rimload;

namespace {

MeasuredFace face_of(const std::string& members) {
  return read_measured_face("{\"rimload_measurements\": 1, " + members + "}", "m.json");
}
bool holds(const std::string& text, const std::string& words) {
  return text.find(words) != std::string::npos;
}
std::vector<std::string> lines_of(const std::string& text) {
  std::istringstream in(text);
  std::vector<std::string> out;
  for (std::string line; std::getline(in, line);) out.push_back(line);
  return out;
}

}  // namespace

TEST_CASE("the finding of a measured face keeps to 15 lines of 100 columns") {
  for (const char* members :
       {R"("sex": "female")", R"("age_years": 3, "sex": "male", "lip_length_mm": 33)",
        R"("age_years": 91, "nose_breadth_mm": 49, "lip_length_mm": 64, "face_width_mm": 165,
           "nasal_root_breadth_mm": 24.5, "bigonial_breadth_mm": 151)"}) {
    const auto lines = lines_of(measure_finding(face_of(members), SealRegion::over_nose_and_mouth));
    INFO(members);
    CHECK(lines.size() <= 15);
    for (const std::string& line : lines) CHECK(line.size() <= 100);
    CHECK(holds(lines.back(), "first."));
  }
}

TEST_CASE("the finding says size, symmetry, the next measurement and whom the tables are of") {
  const MeasuredFace face = face_of(R"("sex": "female", "age_years": 70, "nose_breadth_mm": 33.2)");
  const std::string text = measure_finding(face, SealRegion::over_nose);
  CHECK(holds(text, "Face from 1 measurement, adult women."));
  CHECK(holds(text, "50th"));  // measured at the mean
  CHECK(holds(text, "Symmetry assumed"));
  const std::string_view next = words_for(face.over_nose.next[0].measure);
  CHECK(holds(text, "Next, measure " + std::string(next.substr(0, next.find(" (")))));
  CHECK(holds(text, "a rim over the nose "));
  CHECK(holds(text, "Older than the people surveyed"));
}

TEST_CASE("questions about odd values are in the finding, and hours withheld from children") {
  CHECK(holds(measure_finding(face_of(R"("sex": "female", "nose_breadth_mm": 47.5)"),
                              SealRegion::over_nose),
              "Look again: nose breadth (alar) 47.5 mm lies "));
  CHECK(holds(measure_finding(face_of(R"("age_years": 8)"), SealRegion::over_nose),
              "hours are withheld"));
}

TEST_CASE("the table has a row for each dimension, what was given and what is believed") {
  const MeasuredFace face = face_of(R"("sex": "male", "nose_breadth_mm": 38, "lip_length_cm": 5)");
  const auto lines = lines_of(measures_csv(face, SealRegion::over_nose));
  REQUIRE(lines.size() == 1 + all_measures.size());
  CHECK(holds(lines[0], "measure,given_mm,likeliest_mm,low_10_mm,high_90_mm,population_mean_mm,"));
  CHECK(holds(lines[1], "sellion_supramentale,,"));
  CHECK(holds(lines[1], "no published spread"));
  CHECK(holds(lines[2], "nose_breadth,38.00,"));
  CHECK(holds(lines[2], ",36.60,4.10,"));
  CHECK(holds(lines[3], "lip_length,50.00,"));
  const auto commas = std::count(lines[0].begin(), lines[0].end(), ',');
  for (std::size_t k = 1; k < lines.size(); ++k) {
    const auto quote = lines[k].find('"');
    CHECK(std::count(lines[k].begin(), lines[k].begin() + static_cast<std::ptrdiff_t>(quote),
                     ',') == commas);
  }
}

TEST_CASE("landmarks are listed with their SD, sellion's nought") {
  const MeasuredFace face = face_of(R"("sex": "male")");
  const auto lines = lines_of(landmark_bands_csv(face));
  const auto n_right = std::count_if(face.face.landmarks.begin(), face.face.landmarks.end(),
                                     [](const auto& each) { return each.side == Side::right; });
  CHECK(std::ssize(lines) == 1 + std::ssize(face.face.landmarks) - n_right);
  CHECK(std::find(lines.begin(), lines.end(), "sellion,midline,0.00,0.00,0.00,0.00,0.00,0.00") !=
        lines.end());
}

TEST_CASE("the finding of a fit says that a face is measured, and why a child has no hours") {
  const auto fit = [](const std::string& measurements) {
    return estimate_fit(case_from(
        R"({"rimload_case": 1, "name": "A test", "face": {"measurements": )" + measurements +
        R"(}, "cushion": {"catalogue": "../catalogue/demo-cushions.json", "name": "demo-oronasal",
        "size": "S"}, "settings": {"cpap_cmH2O": 8},
        "sampling": {"stations": 120, "across": 5}})"));
  };
  const Estimate adult = fit(R"({"sex": "female", "nose_breadth_mm": 35, "lip_length_mm": 48})");
  CHECK(holds(finding(adult), "(from 2 measurements, symmetry"));
  const auto result = nlohmann::json::parse(result_json(adult));
  const auto& face = result.at("inputs").at("face");
  CHECK(face.at("symmetry_assumed") == true);
  CHECK(face.at("child") == false);
  CHECK(face.at("measurements").at("n") == 2);
  CHECK(face.at("measurements").at("dimensions").size() == all_measures.size());
  const Estimate child = fit(R"({"age_years": 12})");
  CHECK(holds(finding(child), "A child: tissue data are of adults"));
  const auto rows = nlohmann::json::parse(result_json(child)).at("skin").at("sites");
  REQUIRE_FALSE(rows.empty());
  for (const auto& row : rows) {
    for (const auto& curve : row.at("curves")) {
      CHECK(curve.at("hours").is_null());
    }
  }
}

TEST_CASE("the guide numbers every dimension on the face and says how to take it") {
  const FaceModel face = stored_face("reference");
  const Image page = draw_measuring_guide({.landmarks = face.landmarks});
  CHECK(page.width == 1400);
  CHECK(page.height > 1500);
  const std::string words = measuring_guide_words();
  int n = 0;
  for (const Measure each : measures_as_taken()) {
    CHECK(holds(words, "(" + std::string(name_of(each)) + "_mm): "));
    CHECK(holds(words, "\n" + std::to_string(++n) + " "));
  }
  CHECK((draw_measuring_guide({.landmarks = face.landmarks}).rgb == page.rgb));
}
