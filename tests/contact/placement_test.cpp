#include <algorithm>

#include "catch.hpp"
#include "scene.hpp"

using namespace rimload;

namespace {

const SkinMap& skin() { return reference_face().skin; }

double gap_at(const Pose& pose, const Vec3& point_mask) {
  return skin().closest(pose * point_mask).distance;
}

double least_gap(const MaskOnFace& mask, const Pose& pose) {
  double least = 1e9;
  const SampledRim& rim = mask.mask().rim;
  for (std::size_t i = 0; i < rim.n_stations(); ++i) {
    for (std::size_t j = 0; j < rim.n_across(); ++j) {
      least = std::min(least, gap_at(pose, rim.sample(i, j)));
    }
  }
  return least;
}

}  // namespace

TEST_CASE("a mask is placed with its apex on the midline at the catalogue's height, straight") {
  const Mask mask = test_mask();
  const Pose pose = MaskOnFace(reference_face().field(), mask, {}).placement({});
  const Vec3 apex = pose * Vec3::Zero();
  CHECK(apex.x() == 0);
  CHECK(apex.y() == Approx(-mask.apex_below_sellion_mm));
  // Pitch only: the frame's x axis stays the face's.
  CHECK((pose.rotation * Vec3::UnitX() - Vec3::UnitX()).norm() < 1e-12);
}

TEST_CASE("at placement apex and lowest station have equal gaps, 0.5 mm past first touch") {
  Mask mask = test_mask();
  mask.pad.reset();  // so that the rim touches first
  const MaskOnFace on_face(reference_face().field(), mask, {});
  const Pose pose = on_face.placement({});
  const auto& stations = mask.rim.stations;
  const auto lowest = std::min_element(
      stations.begin(), stations.end(),
      [](const RimStation& a, const RimStation& b) { return a.crown.y() < b.crown.y(); });
  CHECK(gap_at(pose, stations.front().crown) == Approx(gap_at(pose, lowest->crown)).margin(1e-7));
  CHECK(least_gap(on_face, pose) == Approx(-0.5).margin(1e-7));
}

TEST_CASE("an offset shifts and turns the placed mask about the middle of its rim") {
  const MaskOnFace mask(reference_face().field(), test_mask(), {});
  const Pose plain = mask.placement({});
  const Pose set_aside = mask.placement({.shift_mm = {2, -1, 0.5}, .turn_rad = {0, 0, 0.05}});
  const Vec3 middle = mask.reference_mask();
  CHECK((set_aside * middle - plain * middle - Vec3(2, -1, 0.5)).norm() < 1e-12);
  const Mat3 turn = Eigen::AngleAxisd(0.05, Vec3::UnitZ()).toRotationMatrix();
  CHECK((set_aside.rotation - turn * plain.rotation).norm() < 1e-12);
}

TEST_CASE("a strap set to a tension has it at placement, gas off") {
  MaskOnFace mask(reference_face().field(), test_mask(), {});
  const MaskState state = set_up(mask, {.tension_n = 3.3, .gas_pressure = 0});
  for (const StrapLoad& strap : mask.describe(state).straps) {
    CHECK(strap.tension_n == Approx(3.3).epsilon(1e-12));
  }
}
