#include "material/tissue_map.hpp"

#include <algorithm>

#include "catch.hpp"
#include "stored_face.hpp"
#include "units/error.hpp"
#include "units/units.hpp"

using namespace rimload;

TEST_CASE("tissue depth and stiffness stay within the range of the landmarks") {
  const FaceModel face = stored_face("reference");
  const SkinMap skin(face.landmarks);
  const TissueMap tissue(skin, face.landmarks);
  const auto [least, most] = std::minmax_element(
      face.landmarks.begin(), face.landmarks.end(),
      [](const Landmark& a, const Landmark& b) { return a.tissue_depth_mm < b.tissue_depth_mm; });
  double shallowest = 1e9, deepest = 0, softest = 1e9, stiffest = 0;
  for (double u = -140; u <= 140; u += 3.7) {
    for (double v = -140; v <= 70; v += 3.1) {
      const TissuePoint point = tissue.at({u, v});
      shallowest = std::min(shallowest, point.depth_mm);
      deepest = std::max(deepest, point.depth_mm);
      softest = std::min(softest, point.youngs_n_mm2);
      stiffest = std::max(stiffest, point.youngs_n_mm2);
      REQUIRE(point.backing_mm3_n >= 0);
    }
  }
  CHECK(shallowest >= least->tissue_depth_mm);
  CHECK(deepest <= most->tissue_depth_mm);
  CHECK(softest > 0);
  CHECK(stiffest < units::from_kpa(100));  // the stiffest region of the table holds 65 kPa
  // The fields do vary: half of the landmarks' range of depth or more is there.
  CHECK(deepest - shallowest > 0.5 * (most->tissue_depth_mm - least->tissue_depth_mm));
}

TEST_CASE("the slopes of the tissue fields are their finite differences") {
  const FaceModel face = stored_face("reference");
  const SkinMap skin(face.landmarks);
  const TissueMap tissue(skin, face.landmarks);
  constexpr double step = 1e-4;  // cubic pieces: truncation 1e-8 of the third derivative
  for (const Vec2& uv : {Vec2(0.3, -20.1), Vec2(31.7, -48.3), Vec2(-60.9, -70.2)}) {
    for (int axis = 0; axis < 2; ++axis) {
      const Vec2 move = step * Vec2::Unit(axis);
      const TissuePoint above = tissue.at(uv + move);
      const TissuePoint below = tissue.at(uv - move);
      const TissuePoint here = tissue.at(uv);
      const double by = 1 / (2 * step);
      CHECK(here.depth_slope[axis] ==
            Approx((above.depth_mm - below.depth_mm) * by).epsilon(1e-6).margin(1e-8));
      CHECK(here.youngs_slope[axis] ==
            Approx((above.youngs_n_mm2 - below.youngs_n_mm2) * by).epsilon(1e-6).margin(1e-10));
      CHECK(here.backing_slope[axis] ==
            Approx((above.backing_mm3_n - below.backing_mm3_n) * by).epsilon(1e-6).margin(1e-7));
    }
  }
}

TEST_CASE("close to a landmark the tissue is that landmark's") {
  const FaceModel face = stored_face("reference");
  const SkinMap skin(face.landmarks);
  const TissueMap tissue(skin, face.landmarks);
  const Landmark& chin = find_landmark(face.landmarks, "pogonion", Side::midline);
  // The mean also holds the neighbours, and the spline smooths over 4 mm.
  CHECK(tissue.at(SkinMap::chart(chin.position_face)).depth_mm ==
        Approx(chin.tissue_depth_mm).epsilon(0.15));
}

TEST_CASE("the stiffness factor multiplies every modulus and nothing else") {
  const FaceModel face = stored_face("reference");
  const SkinMap skin(face.landmarks);
  const TissuePoint plain = TissueMap(skin, face.landmarks).at({20, -40});
  const TissuePoint stiff = TissueMap(skin, face.landmarks).stiffened(2.5).at({20, -40});
  CHECK(stiff.youngs_n_mm2 == Approx(2.5 * plain.youngs_n_mm2));
  CHECK(stiff.depth_mm == Approx(plain.depth_mm));
  CHECK(stiff.backing_mm3_n == Approx(plain.backing_mm3_n));
}

TEST_CASE("a landmark without known stiffness is refused by its name") {
  FaceModel face = stored_face("reference");
  const SkinMap skin(face.landmarks);
  face.landmarks.front().name = "elbow";
  CHECK_THROWS_AS(TissueMap(skin, face.landmarks), InputError);
}

TEST_CASE("uniform tissue is the same everywhere") {
  const TissueMap tissue =
      TissueMap::uniform({.depth_mm = 7, .youngs_n_mm2 = 0.03, .backing_mm3_n = 50});
  for (const Vec2& uv : {Vec2(0, 0), Vec2(1.5, 2.2), Vec2(-80, 300)}) {
    const TissuePoint point = tissue.at(uv);
    CHECK(point.depth_mm == Approx(7));
    CHECK(point.youngs_n_mm2 == Approx(0.03));
    CHECK(point.backing_mm3_n == Approx(50));
    CHECK(point.depth_slope.norm() < 1e-12);
  }
}
