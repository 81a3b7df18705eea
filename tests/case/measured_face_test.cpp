// Cases and files that name a face by measurements.
#include "case/measured_face.hpp"

#include <numeric>
#include <random>

#include "case/sample_files.hpp"
#include "catch.hpp"

using namespace rimload;
using nlohmann::json;

namespace {

json measured_case(const json& measurements) {
  json out = least_case();
  out["face"] = {{"measurements", measurements}};
  return out;
}
Case read(const json& document) { return read_case(document.dump(), "case.json", sample_disk()); }
const MeasureBand& band_of(const MeasuredFace& face, Measure measure) {
  return *std::find_if(face.bands.begin(), face.bands.end(),
                       [&](const MeasureBand& band) { return band.measure == measure; });
}

}  // namespace

TEST_CASE("a case may name its face by measurements, in mm and in cm") {
  const Case in = read(measured_case({{"sex", "female"},
                                      {"age_years", 54},
                                      {"sellion_supramentale_mm", 89},
                                      {"nose_breadth_mm", 36},
                                      {"lip_length_cm", 4.9}}));
  REQUIRE(in.measured);
  CHECK(in.measured->asked.taken.size() == 3);
  CHECK(in.measured->population == "adult women");
  CHECK(in.face.symmetric);
  CHECK_FALSE(in.face.child);
  CHECK(in.wear.wearer == Wearer::adult);
  CHECK(in.face.title == "Face from 3 measurements, adult women");
  // The reading error of 1 mm against a spread of 4 mm leaves a sixteenth of the difference.
  CHECK(measure(in.face.landmarks, Measure::nose_breadth) == Approx(36).margin(0.2));
  CHECK(measure(in.face.landmarks, Measure::lip_length) == Approx(49).margin(0.2));
  CHECK(measure(in.face.landmarks, Measure::lip_length) ==
        band_of(*in.measured, Measure::lip_length).likeliest_mm);
  CHECK(in.measured->remarks.front().find("Symmetry assumed") == 0);
}

TEST_CASE("a case with a model or a file says nothing of measurements") {
  CHECK_FALSE(read(least_case()).measured);
}

TEST_CASE("a child's face withholds hours, from measurements and from the file written of it") {
  const Case in = read(measured_case({{"age_years", 6}, {"nose_breadth_mm", 29}}));
  CHECK(in.face.child);
  CHECK(in.wear.wearer == Wearer::child);
  CHECK(in.measured->remarks.back() == child_remark());
  json by_file = least_case();
  by_file["face"] = {{"file", "small.json"}};
  const Case again =
      read_case(by_file.dump(), "case.json", sample_disk({{"small.json", write_face(in.face)}}));
  CHECK(again.face.child);
  CHECK(again.wear.wearer == Wearer::child);
}

TEST_CASE("every fault of measurements is named at its key, with those of the rest of the case") {
  json bad = measured_case({{"sex", "woman"},
                            {"age_years", "old"},
                            {"nose_lenght_mm", 50},
                            {"lip_length_mm", 49},
                            {"lip_length_cm", 4.9},
                            {"face_width_mm", 4000}});
  bad["hours_planned"] = -1;
  const auto faults = case_faults(bad);
  INFO(listed(faults));
  CHECK(names(faults, "/face/measurements/sex", "\"woman\" is not one of female, male"));
  CHECK(names(faults, "/face/measurements/age_years", "is not a number"));
  CHECK(names(faults, "/face/measurements/nose_lenght_mm", "nearest valid name: 'nose_length_mm'"));
  CHECK(names(faults, "/face/measurements/lip_length_cm", "given in mm too"));
  CHECK(names(faults, "/face/measurements/face_width_mm", "4000 mm is out of range"));
  CHECK(names(faults, "/hours_planned", "out of range"));
  CHECK(faults.size() == 6);
}

TEST_CASE("mistyped values are asked about in plain words and give no face") {
  const auto faults =
      case_faults(measured_case({{"nose_breadth_mm", 3.6}, {"face_width_mm", 190}}));
  INFO(listed(faults));
  CHECK(names(faults, "/face/measurements/nose_breadth_mm", "Then give it as nose_breadth_cm"));
  CHECK(names(faults, "/face/measurements/face_width_mm", "Is it measured and typed right?"));
  CHECK(faults.size() == 2);
}

TEST_CASE("an infant's face is refused at its age, with the reason") {
  const auto faults = case_faults(measured_case({{"age_years", 0.5}}));
  REQUIRE(faults.size() == 1);
  CHECK(names(faults, "/face/measurements/age_years", "no face is made below 2 years"));
}

TEST_CASE("an unusual value is used and asked about") {
  const Case in = read(measured_case({{"sex", "female"}, {"nose_breadth_mm", 47.5}}));
  REQUIRE(in.measured->questions.size() == 1);
  CHECK(in.measured->questions[0].find("It is used as it stands") != std::string::npos);
  CHECK(measure(in.face.landmarks, Measure::nose_breadth) > 45);
}

TEST_CASE("a measurements file is read by itself; without its marker it is not") {
  const MeasuredFace face = read_measured_face(
      R"({"rimload_measurements": 1, "name": "bed 4", "sex": "male", "face_length_mm": 121})",
      "m.json");
  CHECK(face.face.name == "bed 4");
  CHECK(face.population == "adult men");
  CHECK(face.over_nose_and_mouth.rms_mm < face.over_nose_and_mouth.before_mm);
  CHECK(face.over_nose.next.size() == all_measures.size() - 1);
  CHECK_THROWS_AS(read_measured_face(R"({"face_length_mm": 121})", "m.json"), InputError);
}

TEST_CASE("assumed correlations from 0 to 0.5 are swept: what is not measured moves with them") {
  const MeasuredFace face = read_measured_face(
      R"({"rimload_measurements": 1, "sex": "male", "nose_breadth_mm": 44})", "m.json");
  const auto at = [&](const MeasureBands& bands, Measure measure) {
    return std::find_if(bands.begin(), bands.end(),
                        [&](const auto& band) { return band.measure == measure; })
        ->likeliest_mm;
  };
  // Uncorrelated, a broad nose says nothing of the mouth.
  CHECK(at(face.swept[0], Measure::lip_length) == Approx(51.1).margin(0.01));
  CHECK(at(face.bands, Measure::lip_length) > 52);
  CHECK(at(face.swept[1], Measure::lip_length) > at(face.bands, Measure::lip_length) + 1);
}

TEST_CASE("whatever is not refused gives a sound face, however odd") {
  std::mt19937 random(5);
  const auto uniform = [&] { return static_cast<double>(random()) / 4294967296.0; };
  int n_made = 0;
  for (int k = 0; k < 100; ++k) {
    FaceMeasurements asked;
    if (k % 3 == 0) asked.who.age_years = 2 + 16 * uniform();
    const MeasuredFace usual = measure_face(asked, "m.json", "");
    for (const MeasureBand& band : usual.before) {
      if (uniform() < 0.6) continue;
      // Up to 4.5 SD to either side, whatever the others are.
      asked.taken.push_back({band.measure, band.likeliest_mm + 9 * (uniform() - 0.5) * band.sd_mm});
    }
    try {
      const MeasuredFace odd = measure_face(asked, "m.json", "");
      const auto faults = face_faults(json::parse(write_face(odd.face)));
      INFO(listed(faults));
      CHECK(faults.empty());
      ++n_made;
    } catch (const InputError& error) {
      CHECK_FALSE(error.faults().empty());
    }
  }
  CHECK(n_made > 30);  // most of the others are questions
}

TEST_CASE("every face of the population can be made from its own measurements") {
  const auto reference = face_model_named("reference")->landmarks;
  const FacePrior prior = make_face_prior(reference, face_population({}));
  const FaceSampler sampler(prior, condition_face(prior, {}));
  for (unsigned seed = 0; seed < 100; ++seed) {
    const auto drawn = sampler.draw(seed);
    FaceMeasurements asked;
    for (const Measure each : all_measures) asked.taken.push_back({each, measure(drawn, each)});
    const MeasuredFace face = measure_face(asked, "m.json", "");
    INFO(seed);
    CHECK(face_faults(json::parse(write_face(face.face))).empty());
  }
}

TEST_CASE("every dimension is in the order in which it is taken, once") {
  auto order = measures_as_taken();
  CHECK(order[0] == Measure::sellion_supramentale);
  CHECK(order[1] == Measure::nose_breadth);
  CHECK(order[2] == Measure::lip_length);
  std::sort(order.begin(), order.end());
  auto all = all_measures;
  std::sort(all.begin(), all.end());
  CHECK(order == all);
}

TEST_CASE(
    "faces drawn from measurements have them to the reading error, and ears before the axis") {
  FaceMeasurements asked;
  asked.who.sex = Sex::male;
  asked.taken = {{Measure::nose_breadth, 40}, {Measure::face_length, 135}};
  std::vector<unsigned> seeds(20);
  for (std::size_t k = 0; k < seeds.size(); ++k) seeds[k] = static_cast<unsigned>(k);
  for (const FaceModel& face : drawn_faces(asked, seeds)) {
    // Four SDs of one reading.
    CHECK(measure(face.landmarks, Measure::nose_breadth) == Approx(40).margin(4));
    CHECK(measure(face.landmarks, Measure::face_length) == Approx(135).margin(4));
    for (const Landmark& landmark : face.landmarks) {
      CHECK(landmark.position_face.z() > SkinMap::axis_z_mm);
    }
  }
}

TEST_CASE("of a thousand drawn faces each can be mapped, though the ears of some pass the axis") {
  const auto reference = face_model_named("reference")->landmarks;
  FaceMeasurements asked;
  asked.who.sex = Sex::male;
  const FacePrior prior = make_face_prior(reference, face_population(asked.who));
  const FaceSampler sampler(prior, condition_face(prior, {}));
  std::vector<unsigned> seeds(1000);
  std::iota(seeds.begin(), seeds.end(), 0U);
  const std::vector<FaceModel> faces = drawn_faces(asked, seeds);
  const auto behind = [](const Landmark& each) {
    return each.position_face.z() <= SkinMap::axis_z_mm;
  };
  int n_behind = 0;
  for (const unsigned seed : seeds) {
    const std::vector<Landmark> raw = sampler.draw(seed);
    if (std::none_of(raw.begin(), raw.end(), behind)) continue;
    ++n_behind;
    CAPTURE(seed);
    for (const Landmark& each : raw) {
      if (behind(each)) CHECK((each.name == "tragion" || each.name == "ramus_low"));
    }
    CHECK_NOTHROW(SkinMap(faces[seed].landmarks));
  }
  CHECK(n_behind > 0);
}
