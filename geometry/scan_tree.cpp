#include "geometry/scan_tree.hpp"

#include <CGAL/AABB_tree.h>
#include <CGAL/Simple_cartesian.h>
#if __has_include(<CGAL/AABB_traits_3.h>)
#include <CGAL/AABB_traits_3.h>
#include <CGAL/AABB_triangle_primitive_3.h>
#else
#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_triangle_primitive.h>
#endif

#include <cassert>
#include <cmath>
#include <iterator>

namespace rimload {

namespace {

using Kernel = CGAL::Simple_cartesian<double>;
using Triangles = std::vector<Kernel::Triangle_3>;
#if __has_include(<CGAL/AABB_traits_3.h>)
using Primitive = CGAL::AABB_triangle_primitive_3<Kernel, Triangles::const_iterator>;  // CGAL 6
using Traits = CGAL::AABB_traits_3<Kernel, Primitive>;
#else
using Primitive = CGAL::AABB_triangle_primitive<Kernel, Triangles::const_iterator>;
using Traits = CGAL::AABB_traits<Kernel, Primitive>;
#endif

Kernel::Point_3 point(const Vec3& x) { return {x.x(), x.y(), x.z()}; }
Vec3 vector(const Kernel::Point_3& x) { return {x.x(), x.y(), x.z()}; }

}  // namespace

struct ScanTree::Tree {
  Triangles triangles;
  CGAL::AABB_tree<Traits> boxes;
};

ScanTree::ScanTree(const TriangleMesh& mesh) : tree_(std::make_unique<Tree>()) {
  assert(!mesh.triangles.empty());
  const auto& at = mesh.vertices;
  tree_->triangles.reserve(mesh.triangles.size());
  for (const auto& t : mesh.triangles) {
    tree_->triangles.emplace_back(point(at[t[0]]), point(at[t[1]]), point(at[t[2]]));
  }
  tree_->boxes.insert(tree_->triangles.cbegin(), tree_->triangles.cend());
  tree_->boxes.build();
}

ScanTree::ScanTree(ScanTree&&) noexcept = default;
ScanTree& ScanTree::operator=(ScanTree&&) noexcept = default;
ScanTree::~ScanTree() = default;

std::vector<LineHit> ScanTree::hits(const Vec3& origin, const Vec3& direction, double reach) const {
  const Kernel::Segment_3 segment(point(origin - reach * direction),
                                  point(origin + reach * direction));
  std::vector<Primitive::Id> met;
  tree_->boxes.all_intersected_primitives(segment, std::back_inserter(met));
  std::vector<LineHit> out;
  for (const auto& triangle : met) {
    const Vec3 a = vector(triangle->vertex(0));
    const Vec3 across = (vector(triangle->vertex(1)) - a).cross(vector(triangle->vertex(2)) - a);
    const double steepness = across.dot(direction);
    const double along = across.dot(a - origin) / steepness;
    // A triangle seen edge on meets the line along a piece of it, or not to rounding.
    if (std::isfinite(along)) out.push_back({along, across.normalized()});
  }
  return out;
}

}  // namespace rimload
