#include "geometry/closest_point.hpp"

#include "catch.hpp"

using namespace rimload;

namespace {
// Two triangles: the unit square in the plane z = 0, facing +z.
TriangleMesh square() {
  return {{{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}}, {{0, 1, 2}, {0, 2, 3}}};
}
}  // namespace

TEST_CASE("the closest point of a square is found on its face, its edge and its corner") {
  const ClosestPoint closest(square());
  struct Row {
    Vec3 query, foot;
    double distance;
  };
  for (const Row& row :
       {Row{{0.3, 0.6, 2}, {0.3, 0.6, 0}, 2}, Row{{0.3, 0.6, -2}, {0.3, 0.6, 0}, -2},
        Row{{0.4, -3, 4}, {0.4, 0, 0}, 5}, Row{{2, 3, 2}, {1, 1, 0}, 3}}) {
    const MeshPoint found = closest(row.query);
    CHECK((found.foot - row.foot).norm() < 1e-12);
    CHECK(found.distance == Approx(row.distance).epsilon(1e-12));
    CHECK((found.normal - Vec3::UnitZ()).norm() < 1e-12);
  }
}

TEST_CASE("a moved search tree still finds") {
  ClosestPoint first(square());
  const ClosestPoint second = std::move(first);
  CHECK(second({0.5, 0.5, 1}).distance == Approx(1));
}
