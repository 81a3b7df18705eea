// Bodies pressed on an elastic foundation, against Johnson 1985, section 4.3.
#include <cmath>
#include <numbers>

#include "catch.hpp"
#include "contact/solve.hpp"
#include "shaped_skin.hpp"

using namespace rimload;

namespace {

constexpr double pi = std::numbers::pi;
constexpr double depth_mm = 200;  // deep: strains of a few thousandths, so that the law is linear
constexpr double youngs = 0.06;
const TissuePoint tissue_point{.depth_mm = depth_mm, .youngs_n_mm2 = youngs};
// Pressure sets in at once, or the closed forms would be off by half the blend.
const EquilibriumOptions sharp{.contact_blend_mm = 1e-4};

// A mask that is only a flat pad 60 mm square, its face at the origin of the mask.
Mask punch() {
  Mask mask;
  mask.friction = 0;
  mask.rim = far_rim();
  mask.pad = ForeheadPad{.centre_mask = Vec3::Zero(),
                         .width_mm = 60,
                         .height_mm = 60,
                         .stiffness_n_mm3 = 1e6};  // rigid
  return mask;
}

// The foundation's modulus K/h under that pad: a column of modulus M(width/depth).
double winkler(const LayerModulus& modulus) {
  return youngs * modulus.at(60 / depth_mm).ratio / depth_mm;
}

// Force and moment about the origin of the mask pressed straight in, without friction.
Vec6 pressed(const SkinMap& skin, const LayerModulus& modulus, double depth) {
  const TissueMap tissue = TissueMap::uniform(tissue_point);
  MaskOnFace mask({skin, tissue, modulus}, punch(), sharp);
  Pose pose;
  pose.translation_mm = {0, 0, shape_front_z_mm - depth};
  mask.place(pose, {});
  mask.set_gas_and_gravity(0, {0, -1, 0});
  const MaskState state{pose, Eigen::VectorXd::Zero(16)};
  const Balance balance = mask.evaluate(state);
  Vec6 out = balance.mask;
  out.tail<3>() += (pose * mask.reference_mask() - pose * Vec3::Zero()).cross(out.head<3>());
  return out;
}

}  // namespace

TEST_CASE("a flat punch on a foundation: force K delta/h over its area, and no moment") {
  const LayerModulus modulus(0.45);
  const Vec6 force = pressed(flat_skin(), modulus, 0.4);
  // -ln(1 - x) at x = 0.002 is 0.1 % above x.
  CHECK(force[2] == Approx(winkler(modulus) * 0.4 * 60 * 60).epsilon(2e-3));
  CHECK(force.head<2>().norm() < 1e-6 * force[2]);
  CHECK(force.tail<3>().norm() < 1e-4 * force[2]);
}

TEST_CASE("a sphere on a foundation: force pi K R delta^2/h") {
  const LayerModulus modulus(0.45);
  const double radius = 300;
  const SkinMap skin = spherical_skin(radius);
  double before = 0;
  for (const double depth : {0.4, 0.8}) {
    // Contact of radius sqrt(2 R delta), 15 and 22 mm, in cells 2.5 mm wide.
    const double exact = pi * winkler(modulus) * radius * depth * depth;
    const Vec6 force = pressed(skin, modulus, depth);
    CHECK(force[2] == Approx(exact).epsilon(0.01));
    if (before > 0) CHECK(force[2] / before == Approx(4).epsilon(0.01));
    before = force[2];
  }
}

TEST_CASE("a long cylinder on a foundation: force (2/3)(K/h) a^3/R a length, a^2 = 2 R delta") {
  // The crown of a round rim pressed on the flat: a cylinder bent into a ring.
  const LayerModulus modulus(0.45);
  const TissueMap tissue = TissueMap::uniform(tissue_point);
  const SkinMap skin = flat_skin();
  const double crown = 40;
  Mask mask;
  mask.friction = 0;
  mask.rim = sample_rim(ring(25, {.lip_width_mm = 16, .crown_radius_mm = crown}), {120, 161});
  EquilibriumOptions options = sharp;
  options.edge_blend_mm = 1e-3;
  MaskOnFace on_face({skin, tissue, modulus}, mask, options);
  const double depth = 0.5;
  Pose pose;
  pose.translation_mm = {0, 25, shape_front_z_mm - depth};
  on_face.place(pose, {});
  on_face.set_gas_and_gravity(0, {0, -1, 0});
  const Balance balance = on_face.evaluate({pose, Eigen::VectorXd::Zero(120)});
  const double a = std::sqrt(2 * crown * depth);
  const double k =
      youngs * modulus.at(std::hypot(2 * a, least_width_mm) / depth_mm).ratio / depth_mm;
  // 127 cells in touch and strain 0.25 %: 0.3 %.
  CHECK(balance.mask[2] / (2 * pi * 25) == Approx(2.0 / 3 * k * a * a * a / crown).epsilon(5e-3));
}
