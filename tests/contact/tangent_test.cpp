// The derivatives that Newton's method uses, against central finite differences.
#include "catch.hpp"
#include "scene.hpp"
#include "tangent_errors.hpp"

using namespace rimload;

TEST_CASE("the tangent is the derivative of all forces, by pose and by lip") {
  // Contact, gas, pad, straps, weights, hose and friction at once. Central differences are off by
  // (1e-5 mm/0.05 mm)^2/6 where contact sets in, and by the rounding of skin distances, 1e-7.
  MaskOnFace mask(reference_face().field(), test_mask({64, 5}), {});
  const WorstTangent worst = worst_tangent(mask, 25);
  CHECK(worst.touching > 25 * 100);
  CHECK(worst.by_pose < 1e-6);
  CHECK(worst.by_lip < 1e-6);
  WARN("tangent: by pose " << worst.by_pose << ", by lip " << worst.by_lip);
}

TEST_CASE(
    "the tangent is right with stations that lost touch, where the gas edge moves to the crown") {
  MaskOnFace mask(reference_face().field(), test_mask({64, 5}), {});
  MaskState state = set_up(mask, {.tension_n = 4, .gas_pressure = 3e-3});
  // Half of the rim lifted off by 1 to 3 mm, the other pushed in.
  for (Eigen::Index i = 0; i < 64; ++i) state.lip_mm[i] = i < 32 ? 3.3 : -1.0 + 0.02 * i;
  state.pose = state.pose.moved({0, 0, -1.5}, Vec3::Zero(), mask.reference_mask());
  const TangentErrors found = tangent_errors(mask, state);
  CHECK(found.by_pose < 1e-6);
  CHECK(found.by_lip < 1e-6);
}
