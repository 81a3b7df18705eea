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

double distance(const std::vector<Clearance>& all, KeepClear what) {
  for (const Clearance& each : all) {
    if (each.what == what) return each.distance_mm;
  }
  FAIL("no such clearance");
  return 0;
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
}
