#include "geometry/skin_patch.hpp"

#include <algorithm>
#include <cmath>

#include "catch.hpp"
#include "geometry/flatten.hpp"
#include "geometry/patch_shapes.hpp"
#include "stored_face.hpp"

using namespace rimload;

namespace {

// A map of constant radius: a cylinder about the map's own axis.
SkinMap cylinder_skin(double radius_mm) {
  const GridFrame frame{-40, -40, 1, 81, 81};
  const BicubicGrid<1>::Values radius = BicubicGrid<1>::Values::Constant(radius_mm);
  return SkinMap(
      BicubicGrid<1>(frame, std::vector(81U * 81U, radius), BicubicGrid<1>::Kind::interpolating));
}

}  // namespace

TEST_CASE("A patch lies on the skin, within its outline, facing outwards") {
  const SkinMap skin(stored_face("reference").landmarks);
  const Polygon outline = simple_outline(Polygon{{-16, -20}, {16, -20}, {16, -4}, {-16, -4}});
  const SkinPatch patch = make_skin_patch(skin, outline, {}, {});
  REQUIRE(patch.uv.size() == patch.mesh.vertices.size());
  REQUIRE(patch.uv.size() > 300);
  for (std::size_t k = 0; k < patch.uv.size(); ++k) {
    CHECK((skin.point(patch.uv[k]) - patch.mesh.vertices[k]).norm() < 1e-12);
    const bool inside = winding_number(outline, patch.uv[k]) == 1;
    CHECK((inside || border_distance(outline, patch.uv[k]) < 1e-9));
  }
  for (const auto& t : patch.mesh.triangles) {
    const Vec3& a = patch.mesh.vertices[t[0]];
    const Vec3 normal = (patch.mesh.vertices[t[1]] - a).cross(patch.mesh.vertices[t[2]] - a);
    CHECK(normal.dot(skin.normal(patch.uv[t[0]])) > 0);
  }
  for (const std::uint32_t k : patch.border) {
    CHECK(border_distance(outline, patch.uv[k]) < 1e-9);
  }
}

TEST_CASE("A rectangle on a cylinder of skin unrolls to its arc and its height") {
  // Arcs on a cylinder of 60 mm are 60/92 of the chart's.
  const SkinMap skin = cylinder_skin(60);
  const Polygon outline{{-23, -10}, {23, -10}, {23, 10}, {-23, 10}};
  const SkinPatch patch = make_skin_patch(skin, outline, {}, {});
  const FlatPatch flat = flatten(patch.mesh);
  const auto corner = [&](const Vec2& uv) {
    const auto found = std::find(patch.uv.begin(), patch.uv.end(), uv);
    REQUIRE(found != patch.uv.end());
    return flat.points[static_cast<std::size_t>(found - patch.uv.begin())];
  };
  const double width = 46 * 60.0 / SkinMap::chart_radius_mm;
  // Chords: 1.5^2/(24 60^2) = 2.6e-5 of 36 mm.
  CHECK((corner(outline[0]) - corner(outline[1])).norm() == Approx(width).margin(1e-3));
  CHECK((corner(outline[1]) - corner(outline[2])).norm() == Approx(20).margin(1e-3));
  CHECK((corner(outline[0]) - corner(outline[2])).norm() ==
        Approx(std::hypot(width, 20)).margin(1e-3));
  CHECK(stretch_of(flat, 0).most() < 3e-5);
}
