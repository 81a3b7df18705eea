#include "geometry/scan_registration.hpp"

#include "catch.hpp"
#include "scanned_face.hpp"
#include "stored_face.hpp"
#include "units/error.hpp"

using namespace rimload;

namespace {

const std::vector<Landmark>& reference() {
  static const std::vector<Landmark> landmarks = stored_face("reference").landmarks;
  return landmarks;
}

std::string fault_of(std::span<const ScanLandmark> marked, std::optional<ScanUnit> unit = {}) {
  try {
    static_cast<void>(register_scan(marked, reference(), unit));
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("points marked on the reference face come back from any pose and unit") {
  unsigned seed = 0;
  for (const ScanUnit unit : {ScanUnit::mm, ScanUnit::cm, ScanUnit::inch, ScanUnit::m}) {
    for (int turn = 0; turn < 5; ++turn) {
      const ScanPose pose = random_pose(++seed, mm_in(unit));
      const auto marked = marked_on(reference(), pose);
      const ScanRegistration found = register_scan(marked, reference(), std::nullopt);
      INFO(name_of(unit) << ", pose " << seed);
      CHECK(found.unit == unit);
      CHECK(found.unit_inferred);
      CHECK(found.size == Approx(1));
      CHECK(found.residual_rms_mm < 1e-9);  // rounding over 500 mm
      for (const Landmark& landmark : reference()) {
        CHECK((found.to_face(pose(landmark.position_face)) - landmark.position_face).norm() < 1e-9);
      }
    }
  }
}

TEST_CASE("a larger face keeps its size and has its sellion at the origin") {
  const ScanPose pose = random_pose(3, 1);
  auto marked = marked_on(reference(), pose);
  for (ScanLandmark& each : marked) each.position_scan *= 1.1;
  const ScanRegistration found = register_scan(marked, reference(), ScanUnit::mm);
  CHECK_FALSE(found.unit_inferred);
  CHECK(found.size == Approx(1.1));
  CHECK(found.to_face(marked[0].position_scan).norm() < 1e-9);
  CHECK((found.to_face(marked[1].position_scan) -
         1.1 * find_landmark(reference(), "pronasale", Side::midline).position_face)
            .norm() < 1e-9);
}

TEST_CASE("the residual of a point placed wrongly stands out under its name") {
  auto marked = marked_on(reference(), {});
  marked[4].position_scan += Vec3(0, 8, 0);
  const ScanRegistration found = register_scan(marked, reference(), ScanUnit::mm);
  for (const LandmarkResidual& each : found.residuals) {
    const bool moved = each.name == "exocanthion" && each.side == Side::left;
    INFO(each.name);
    CHECK((moved ? each.distance_mm > 4 : each.distance_mm < 4));
  }
}

TEST_CASE("marks that lay no face are refused with the reason") {
  const auto marked = marked_on(reference(), {});
  CHECK_THAT(fault_of(std::span(marked).first(3)), Catch::Contains("four or more"));
  auto twice = marked;
  twice[5] = twice[4];
  CHECK_THAT(fault_of(twice), Catch::Contains("exocanthion (left) is marked twice"));
  auto unknown = marked;
  unknown[0].name = "selion";
  CHECK_THAT(fault_of(unknown), Catch::Contains("selion"));
  auto one_line = marked;
  for (ScanLandmark& each : one_line) each.position_scan.head<2>().setZero();
  CHECK_THAT(fault_of(one_line), Catch::Contains("one line"));
  auto exchanged = marked;
  for (ScanLandmark& each : exchanged) each.side = mirrored(each.side);
  CHECK_THAT(fault_of(exchanged), Catch::Contains("seem to be exchanged"));
}

TEST_CASE("a unit that makes no face is refused, and one that does is named") {
  const auto in_cm = marked_on(reference(), random_pose(1, 10));
  CHECK_THAT(fault_of(in_cm, ScanUnit::mm),
             Catch::Contains("0.1 times") && Catch::Contains("in cm it is 1 times"));
  auto no_scale = in_cm;
  for (ScanLandmark& each : no_scale) each.position_scan *= 100;
  CHECK_THAT(fault_of(no_scale), Catch::Contains("to scale"));
}
