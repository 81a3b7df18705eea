#include "geometry/measurement_doubt.hpp"

#include "catch.hpp"
#include "stored_face.hpp"

using namespace rimload;

namespace {

const FacePrior& women() {
  static const FacePrior prior =
      make_face_prior(stored_face("reference").landmarks, face_population({.sex = Sex::female}));
  return prior;
}
std::vector<MeasurementDoubt> doubts(const std::vector<FaceMeasurement>& given) {
  return doubts_about(women(), given);
}
bool says(const MeasurementDoubt& doubt, const std::string& words) {
  return doubt.question.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("usual measurements raise no question") {
  CHECK(doubts({}).empty());
  CHECK(doubts({{Measure::sellion_supramentale, 85},
                {Measure::nose_breadth, 34},
                {Measure::lip_length, 49},
                {Measure::face_length, 115}})
            .empty());
}

TEST_CASE(
    "centimetres for millimetres, and the other way round, are asked about by the other key") {
  const auto slip = doubts({{Measure::nose_breadth, 3.4}});
  REQUIRE(slip.size() == 1);
  CHECK(slip[0].kind == DoubtKind::other_unit);
  CHECK(slip[0].refused());
  CHECK(says(slip[0], "nose breadth (alar) 3.4 mm"));
  CHECK(says(slip[0], "Is it in cm? Then give it as nose_breadth_cm"));
  const auto back = doubts({{Measure::face_length, 1150, LengthUnit::cm}});
  REQUIRE(back.size() == 1);
  CHECK(back[0].kind == DoubtKind::other_unit);
  CHECK(says(back[0], "115 cm"));
  CHECK(says(back[0], "face_length_mm"));
}

TEST_CASE("two values that would be usual the other way round are asked about together") {
  const auto swapped = doubts({{Measure::nose_breadth, 51}, {Measure::nose_length, 34}});
  REQUIRE(swapped.size() == 1);
  CHECK(swapped[0].kind == DoubtKind::swapped);
  CHECK(swapped[0].about == std::vector{Measure::nose_breadth, Measure::nose_length});
  CHECK(swapped[0].refused());
}

TEST_CASE("a part longer than the whole is asked about, whatever the spread") {
  const auto doubt = doubts({{Measure::face_length, 108}, {Measure::sellion_supramentale, 109}});
  REQUIRE_FALSE(doubt.empty());
  CHECK(doubt[0].kind == DoubtKind::part_above_whole);
  CHECK(doubt[0].refused());
}

TEST_CASE("beyond 5 SD no face is made, beyond 3 it is asked; the mean is said in both") {
  // SD 3.9 mm and the reading's 1 mm: 4.03 mm.
  const auto far = doubts({{Measure::nose_breadth, 33.2 + 5.05 * 4.03}});
  REQUIRE(far.size() == 1);
  CHECK(far[0].kind == DoubtKind::beyond);
  CHECK(says(far[0], "adult women have 33 mm on average, SD 3.9"));
  const auto odd = doubts({{Measure::nose_breadth, 33.2 + 4.9 * 4.03}});
  REQUIRE(odd.size() == 1);
  CHECK(odd[0].kind == DoubtKind::unusual);
  CHECK_FALSE(odd[0].refused());
  CHECK(doubts({{Measure::nose_breadth, 33.2 + 2.9 * 4.03}}).empty());
}

TEST_CASE("a value usual by itself that does not go with the others is asked about") {
  // The nose and the lower face make up the face: 48 + 65 mm against 100.
  const auto doubt = doubts(
      {{Measure::nose_length, 54}, {Measure::menton_subnasale, 72}, {Measure::face_length, 102}});
  REQUIRE_FALSE(doubt.empty());
  for (const MeasurementDoubt& each : doubt) {
    CHECK(each.kind == DoubtKind::unlike_others);
    CHECK_FALSE(each.refused());
  }
  CHECK(says(doubt[0], "does not go with the other measurements"));
}

TEST_CASE("of 1,000 faces drawn from the population none is refused, and few raise a question") {
  const FaceSampler sampler(women(), condition_face(women(), {}));
  int asked = 0;
  for (unsigned seed = 0; seed < 1000; ++seed) {
    const auto face = sampler.draw(seed);
    std::vector<FaceMeasurement> given;
    for (const Measure each : all_measures) given.push_back({each, measure(face, each)});
    const auto raised = doubts(given);
    for (const MeasurementDoubt& each : raised) {
      INFO(each.question);
      CHECK_FALSE(each.refused());
    }
    asked += raised.empty() ? 0 : 1;
  }
  // 14 normal values beyond 3 SD: 1 - 0.9973^14 = 3.7 %, less as they go together; curvature of
  // the distances adds to those beside the others.
  CHECK(asked < 60);
}
