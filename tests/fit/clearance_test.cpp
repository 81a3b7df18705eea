#include "fit/clearance.hpp"

#include "catch.hpp"
#include "fit/fit.hpp"
#include "stored_case.hpp"

using namespace rimload;

namespace {

std::vector<Clearance> clearances(const CaseWords& parts) {
  const Estimate estimate = estimate_fit(case_of(parts));
  REQUIRE(estimate.phases.front().seated);
  return estimate.clearances;
}

const Clearance& nearest(const std::vector<Clearance>& all, KeepClear what) {
  const Clearance* out = nullptr;
  for (const Clearance& each : all) {
    if (each.what == what && (!out || each.distance_mm < out->distance_mm)) out = &each;
  }
  REQUIRE(out);
  return *out;
}

double distance(const std::vector<Clearance>& all, KeepClear what) {
  return nearest(all, what).distance_mm;
}

}  // namespace

TEST_CASE("A mask of the right size keeps clear of everything") {
  for (const Clearance& each : clearances({})) {
    CAPTURE(words_for(each));
    CHECK_FALSE(each.too_near());
  }
}

TEST_CASE("A mask set higher comes nearer to the eyes, millimetre by millimetre") {
  const double before = distance(clearances({}), KeepClear::eye_corner);
  const auto raised = clearances({.rest = R"("placement": {"shift_up_mm": 6})"});
  CHECK(distance(raised, KeepClear::eye_corner) < before - 1);
}

TEST_CASE(
    "A mask too large for a small face ends nearer to the end of the chin than its own size") {
  const auto right = clearances({.face = "small", .size = "S"});
  const auto large = clearances({.face = "small", .size = "L"});
  CHECK(distance(large, KeepClear::chin_end) < distance(right, KeepClear::chin_end) - 3);
}

TEST_CASE("A mask that reaches an eye, a nostril or the lips is at fault") {
  const auto at_eye =
      clearances({.face = "small",
                  .size = "L",
                  .rest = R"("placement": {"shift_up_mm": 20, "shift_left_mm": 10})"});
  CHECK(nearest(at_eye, KeepClear::eye_corner).too_near());
  CHECK(distance(at_eye, KeepClear::eye_corner) < 3);
  const auto at_nostril = clearances({.face = "small", .cushion = "demo-below-nose"});
  CHECK(nearest(at_nostril, KeepClear::nostril).too_near());
  const auto over_lip = clearances({.face = "small",
                                    .cushion = "demo-nasal",
                                    .size = "L",
                                    .rest = R"("placement": {"shift_up_mm": -20})"});
  CHECK(nearest(over_lip, KeepClear::upper_lip).too_near());
  const auto up_on_lip = clearances(
      {.face = "long-narrow", .size = "S", .rest = R"("placement": {"shift_up_mm": 20})"});
  CHECK(nearest(up_on_lip, KeepClear::lower_lip).too_near());
}

TEST_CASE("A mask that hangs over the chin is measured at its lip, on skin or not") {
  const std::vector<CaseWords> cases{
      {.face = "small", .cushion = "demo-total-face"},
      {.face = "small", .size = "L", .rest = R"("placement": {"shift_up_mm": -8})"}};
  for (const CaseWords& words : cases) {
    const Estimate estimate = estimate_fit(case_of(words));
    REQUIRE(estimate.phases.front().seated);
    double lowest = 0;
    for (const ContactSample& sample : estimate.phases.front().state.samples) {
      if (sample.part == Part::rim && std::abs(sample.position.x()) < 8) {
        lowest = std::min(lowest, sample.position.y());
      }
    }
    const double menton =
        find_landmark(estimate.input.face.landmarks, "menton", Side::midline).position_face.y();
    const Clearance& chin = nearest(estimate.clearances, KeepClear::chin_end);
    CAPTURE(words.cushion);
    CHECK(chin.distance_mm == Approx(lowest - menton));
    CHECK(chin.distance_mm < -3);
    CHECK(words_for(chin).find("hangs") != std::string::npos);
  }
}

TEST_CASE("A mask that does not seat is measured where it is put on") {
  const Estimate estimate = estimate_fit(case_of({.face = "small",
                                                  .size = "L",
                                                  .settings = R"({"cpap_cmH2O": 20})",
                                                  .rest = R"("straps": {"tension_N": 0},
                                                             "placement": {"shift_up_mm": 20})"}));
  REQUIRE_FALSE(estimate.phases.front().seated);
  CHECK(nearest(estimate.clearances, KeepClear::eye_corner).too_near());
  const Estimate right = estimate_fit(
      case_of({.settings = R"({"cpap_cmH2O": 20})", .rest = R"("straps": {"tension_N": 0})"}));
  REQUIRE_FALSE(right.phases.front().seated);
  CHECK(right.clearances.size() == 6);
  for (const Clearance& each : right.clearances) {
    CAPTURE(words_for(each));
    CHECK_FALSE(each.too_near());
  }
}

TEST_CASE("Each mask is asked what matters for its type") {
  const auto nasal = clearances({.cushion = "demo-nasal"});
  CHECK(std::any_of(nasal.begin(), nasal.end(),
                    [](const auto& each) { return each.what == KeepClear::upper_lip; }));
  CHECK(std::none_of(nasal.begin(), nasal.end(),
                     [](const auto& each) { return each.what == KeepClear::chin_end; }));
}

TEST_CASE("A fault is told with its distance") {
  CHECK(words_for({KeepClear::chin_end, Side::midline, -4, 3}) ==
        "The rim hangs 4 mm over the end of the chin.");
  CHECK(words_for({KeepClear::eye_corner, Side::left, 2, 4}) ==
        "The rim comes within 2 mm of the left eye.");
  CHECK(words_for({KeepClear::nostril, Side::left, 0.1, 2}) ==
        "The lip lies less than 1 mm from the left nostril: it can close it.");
  CHECK(words_for({KeepClear::chin_end, Side::midline, -0.4, 3}) ==
        "The rim hangs less than 1 mm over the end of the chin.");
}

TEST_CASE("Half a millimetre over the red of the lip is no fault") {
  const auto all = clearances({.face = "adult-female", .cushion = "demo-nasal"});
  CHECK(distance(all, KeepClear::upper_lip) > -1);
  CHECK_FALSE(nearest(all, KeepClear::upper_lip).too_near());
}
