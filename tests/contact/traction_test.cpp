#include "contact/traction.hpp"

#include <random>

#include "catch.hpp"
#include "scene.hpp"

using namespace rimload;

namespace {

struct Query {
  Vec3 position;
  Vec3 displacement;  // since placement
};

// Points 0.01 to 3 mm inside the reference face where masks lie, moved by up to 2 mm.
std::vector<Query> queries() {
  std::mt19937 random(11);
  const auto unit = [&] { return static_cast<double>(random()) / 4294967296.0; };
  std::vector<Query> out;
  const SkinMap& skin = reference_face().skin;
  for (int k = 0; k < 120; ++k) {
    const Vec2 uv(70 * (unit() - 0.5), -5 - 85 * unit());
    const double depth = 0.01 + 3 * unit() * unit() * unit();
    const Vec3 displacement(4 * unit() - 2, 4 * unit() - 2, 4 * unit() - 2);
    out.push_back({skin.point(uv) - depth * skin.normal(uv), displacement});
  }
  return out;
}

Traction at(const Query& query, const SampleLaw& law, const Vec3& moved = Vec3::Zero()) {
  const ReferenceFace& face = reference_face();
  const SkinPoint skin = face.skin.closest(query.position + moved);
  return skin_traction(skin, face.tissue.at(skin.uv), query.displacement + moved, law);
}

SampleLaw law_with(const SlipLaw& slip) {
  SampleLaw law;
  law.modulus = &reference_face().modulus;
  law.contact_width_mm = 4.3;
  law.slip = slip;
  return law;
}

// The last step to the foot, below 3e-5 mm, is made by Taylor's series and leaves the curvature as
// it was before it: at 1 mm of grid some 1e-6 off (measured 7e-7 to 1.0e-6, by compiler).
constexpr double curvature_error = 2e-6;

// Largest relative error of the derivatives over all queries.
struct Errors {
  double by_position = 0;
  double by_width = 0;
  int pressed = 0;
};
Errors worst_errors(const SampleLaw& law) {
  Errors worst;
  for (const Query& query : queries()) {
    const Traction here = at(query, law);
    if (here.pressure <= 0) continue;
    ++worst.pressed;
    // Of fourth order: so close to where pressure sets in, central differences of second order
    // err by (1e-5/0.01)^2/6, and a shorter step shows the rounding of the closest point.
    constexpr double step = 4e-5;
    const auto difference_over = [&](const Vec3& move) -> Vec3 {
      return (at(query, law, move).force - at(query, law, -move).force) / (2 * move.norm());
    };
    Mat3 difference;
    for (int axis = 0; axis < 3; ++axis) {
      const Vec3 move = step * Vec3::Unit(axis);
      difference.col(axis) = (4 * difference_over(move) - difference_over(2 * move)) / 3;
    }
    worst.by_position =
        std::max(worst.by_position, (here.by_position - difference).norm() / difference.norm());
    constexpr double width_step = 1e-5;
    SampleLaw wide = law, narrow = law;
    wide.contact_width_mm += width_step;
    narrow.contact_width_mm -= width_step;
    const Vec3 by_width = (at(query, wide).force - at(query, narrow).force) / (2 * width_step);
    // Where the modulus is least it has no slope: compare with the pressure itself.
    worst.by_width = std::max(worst.by_width, (here.by_width - by_width).norm() / here.pressure);
  }
  return worst;
}

}  // namespace

TEST_CASE("the derivatives of the skin's traction are its finite differences") {
  const SlipLaw coupled{.mu = 0.6, .layer_stiffness_n_mm3 = 1e-3};
  SlipLaw none = coupled;
  none.mu = 0;
  for (const SlipLaw& slip : {coupled, none}) {
    const Errors worst = worst_errors(law_with(slip));
    REQUIRE(worst.pressed > 100);
    UNSCOPED_INFO("by position " << worst.by_position << ", by width " << worst.by_width);
    CHECK(worst.by_position < curvature_error);
    CHECK(worst.by_width < 1e-8);
  }
}

TEST_CASE("a pad's compliance in series keeps the derivatives right") {
  SampleLaw law = law_with({});
  law.pad_compliance_mm3_n = 500;
  CHECK(worst_errors(law).by_position < curvature_error);
}

TEST_CASE("shear opposes the slip, lies in the skin and never exceeds mu times the pressure") {
  const SampleLaw law = law_with({.mu = 0.6, .layer_stiffness_n_mm3 = 1e-3});
  double most = 0;
  for (const Query& query : queries()) {
    const Traction t = at(query, law);
    const SkinPoint skin = reference_face().skin.closest(query.position);
    const Vec3 slip = query.displacement - skin.normal.dot(query.displacement) * skin.normal;
    REQUIRE(std::abs(t.shear.dot(skin.normal)) < 1e-12 * (1 + t.shear.norm()));
    REQUIRE(t.shear.norm() <= 0.6 * t.pressure);
    REQUIRE(t.shear.dot(slip) <= 0);
    REQUIRE(t.shear.cross(slip).norm() < 1e-12);
    if (t.pressure > 0) most = std::max(most, t.shear.norm() / t.pressure);
  }
  CHECK(most > 0.5);  // some samples slip
}

TEST_CASE("off the skin there is no traction") {
  const SkinMap& skin = reference_face().skin;
  const Vec2 uv(20, -50);
  const Traction t = at({skin.point(uv) + 1e-9 * skin.normal(uv), {1, 1, 1}}, law_with({}));
  CHECK(t.pressure == 0);
  CHECK(t.force.norm() == 0);
  CHECK(t.by_position.norm() == 0);
}
