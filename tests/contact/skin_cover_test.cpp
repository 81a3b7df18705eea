// Dressings and swelling between cushion and skin.
#include "contact/skin_cover.hpp"

#include <numbers>

#include "catch.hpp"
#include "scene.hpp"
#include "tangent_errors.hpp"

using namespace rimload;

namespace {

// A round piece on the reference face.
CoverPatch piece_at(const Vec2& uv, double radius_mm, double thickness_mm, double youngs_n_mm2) {
  const SkinMap& skin = reference_face().skin;
  const Vec3 middle = skin.point(uv);
  const Vec3 normal = skin.normal(uv);
  const Vec3 right = Vec3::UnitY().cross(normal).normalized();
  const Vec3 up = normal.cross(right);
  CoverPatch patch{.outlines = {{}},
                   .thickness_mm = thickness_mm,
                   .compressive_n_mm2 = youngs_n_mm2,
                   .shear_n_mm2 = youngs_n_mm2 / 2.4,
                   .friction = 0.5};
  for (int k = 0; k < 40; ++k) {
    const double angle = 2 * std::numbers::pi * k / 40;
    patch.outlines[0].push_back(
        skin.closest(middle + radius_mm * (std::cos(angle) * right + std::sin(angle) * up)).foot);
  }
  return patch;
}

// On the bridge and, softer and thicker, on the left cheek; skin raised by 0.4 mm.
const SkinCover& test_cover() {
  static const SkinCover cover = [] {
    const SkinMap& skin = reference_face().skin;
    const std::vector<CoverPatch> pieces{
        piece_at({0, -8}, 9, 0.6, 0.4),
        piece_at(SkinMap::chart(skin.closest({30, -50, 0}).foot), 12, 3, 0.03)};
    return SkinCover(skin, pieces, test_mask().friction).raised_by(0.4);
  }();
  return cover;
}

FaceField covered(const SkinCover& cover) {
  FaceField field = reference_face().field();
  field.cover = &cover;
  return field;
}

PhaseState solve_on(const FaceField& field, const Mask& mask) {
  MaskOnFace on_face(field, mask, {});
  MaskState state = set_up(on_face, {});
  return balance_phase(on_face, state, {});
}

}  // namespace

TEST_CASE("a piece has its thickness and compliance inside its edge and nothing outside") {
  const SkinMap& skin = reference_face().skin;
  const SkinCover cover(skin, std::vector{piece_at({0, -8}, 9, 0.6, 0.4)}, 0.6);
  const CoverPoint middle = cover.at({0, -8});
  CHECK(middle.thickness_mm == Approx(0.6));
  CHECK(middle.compliance_mm3_n == Approx(0.6 / 0.4));
  CHECK(middle.shear_compliance_mm3_n == Approx(0.6 * 2.4 / 0.4));
  CHECK(middle.friction_change == Approx(0.5 - 0.6));
  CHECK(middle.thickness_slope.norm() < 1e-12);
  // The bevel is 2 mm, the spline reaches 2 mm more.
  CHECK(cover.at({0, -8 + 9 + 2.1}).thickness_mm == 0);
  CHECK(cover.at({60, -60}).thickness_mm == 0);
  CHECK(cover.greatest_height_mm() >= middle.thickness_mm);
}

TEST_CASE("where pieces overlap, thickness adds up and the last one rubs") {
  const SkinMap& skin = reference_face().skin;
  const SkinCover cover(
      skin, std::vector{piece_at({0, -8}, 9, 0.6, 0.4), piece_at({0, -8}, 9, 3, 0.03)}, 0.9);
  CHECK(cover.at({0, -8}).thickness_mm == Approx(3.6));
  CHECK(cover.at({0, -8}).compliance_mm3_n == Approx(0.6 / 0.4 + 3 / 0.03));
  CHECK(cover.at({0, -8}).friction_change == Approx(0.5 - 0.9));
}

TEST_CASE("outlines of one kind that overlap are one piece") {
  const SkinMap& skin = reference_face().skin;
  CoverPatch pair = piece_at({30, -50}, 8, 3, 0.03);
  pair.outlines.push_back(piece_at({36, -50}, 8, 3, 0.03).outlines[0]);
  const SkinCover cover(skin, std::vector{pair}, 0.6);
  for (const double u : {27.0, 30.0, 33.0, 36.0, 39.0}) {
    CHECK(cover.at({u, -50}).thickness_mm == Approx(3));
  }
}

TEST_CASE("the slopes of a cover are its finite differences") {
  constexpr double step = 1e-4;
  for (const Vec2& uv : {Vec2(1, 0.5), Vec2(3, -15), Vec2(38, -50), Vec2(22, -45)}) {
    const CoverPoint here = test_cover().at(uv);
    for (int axis = 0; axis < 2; ++axis) {
      const CoverPoint above = test_cover().at(uv + step * Vec2::Unit(axis));
      const CoverPoint below = test_cover().at(uv - step * Vec2::Unit(axis));
      const auto difference = [&](double CoverPoint::*member) {
        return (above.*member - below.*member) / (2 * step);
      };
      // Quadratic splines in each direction: truncation is 1e-8 of the value.
      const auto close = [](double value) { return Approx(value).epsilon(1e-6).margin(1e-7); };
      CHECK(here.thickness_slope[axis] == close(difference(&CoverPoint::thickness_mm)));
      CHECK(here.compliance_slope[axis] == close(difference(&CoverPoint::compliance_mm3_n)));
      CHECK(here.shear_compliance_slope[axis] ==
            close(difference(&CoverPoint::shear_compliance_mm3_n)));
      CHECK(here.friction_slope[axis] == close(difference(&CoverPoint::friction_change)));
    }
  }
}

TEST_CASE("a dressing of no thickness that rubs as skin does changes no bit of a balance") {
  const Mask mask = test_mask();
  CoverPatch nothing = piece_at({0, -8}, 9, 0, 0.4);
  nothing.friction = mask.friction;
  const SkinCover cover(reference_face().skin, std::vector{nothing}, mask.friction);
  const PhaseState bare = solve_on(reference_face().field(), mask);
  const PhaseState dressed = solve_on(covered(cover), mask);
  REQUIRE(bare.samples.size() == dressed.samples.size());
  for (std::size_t k = 0; k < bare.samples.size(); ++k) {
    REQUIRE(bare.samples[k].pressure == dressed.samples[k].pressure);
    REQUIRE(bare.samples[k].shear == dressed.samples[k].shear);
    REQUIRE(bare.samples[k].gap_mm == dressed.samples[k].gap_mm);
  }
  CHECK(bare.pose.translation_mm == dressed.pose.translation_mm);
}

TEST_CASE("the tangent is the derivative of all forces with dressings and swelling too") {
  MaskOnFace mask(covered(test_cover()), test_mask({64, 5}), {});
  const WorstTangent worst = worst_tangent(mask, 15);
  CHECK(worst.touching > 15 * 100);
  // As on bare skin; the layered column is solved to 1e-14.
  CHECK(worst.by_pose < 1e-6);
  CHECK(worst.by_lip < 1e-6);
}

TEST_CASE("with dressings and swelling the forces on the mask balance, summed from its samples") {
  const PhaseState state = solve_on(covered(test_cover()), test_mask());
  REQUIRE(state.termination == Termination::converged);
  const Vec6 left = contact_wrench(state) + load_wrench(state);
  CHECK(left.head<3>().norm() < 1e-6);
  CHECK(left.tail<3>().norm() < 1e-4);
}

TEST_CASE("a stiff dressing on the bridge takes load from the cheeks beside it") {
  const Mask mask = test_mask();
  const SkinCover cover(reference_face().skin, std::vector{piece_at({0, -8}, 9, 1.5, 5)},
                        mask.friction);
  const auto force_above = [](const PhaseState& state, double y_mm) {
    double sum = 0;
    for (const ContactSample& sample : state.samples) {
      if (sample.part == Part::rim && sample.foot.y() > y_mm) {
        sum += sample.area_mm2 * sample.pressure;
      }
    }
    return sum;
  };
  const PhaseState bare = solve_on(reference_face().field(), mask);
  const PhaseState dressed = solve_on(covered(cover), mask);
  CHECK(force_above(dressed, -12) > 1.1 * force_above(bare, -12));
}

TEST_CASE("on swollen skin with straps of fixed length every strap pulls harder") {
  const Mask mask = test_mask();
  const SkinCover swollen = SkinCover().raised_by(1);
  const PhaseState before = solve_on(reference_face().field(), mask);
  const PhaseState after = solve_on(covered(swollen), mask);
  REQUIRE(after.termination == Termination::converged);
  for (std::size_t k = 0; k < before.straps.size(); ++k) {
    // A band of 0.2 N/mm taken 1 mm farther out pulls by less than 0.2 N more.
    CHECK(after.straps[k].tension_n > before.straps[k].tension_n);
    CHECK(after.straps[k].tension_n < before.straps[k].tension_n + mask.straps[k].stiffness_n_mm);
  }
}
