#include "geometry/closest_point.hpp"

#include <CGAL/AABB_face_graph_triangle_primitive.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/Simple_cartesian.h>
#include <CGAL/Surface_mesh.h>
#if __has_include(<CGAL/AABB_traits_3.h>)
#include <CGAL/AABB_traits_3.h>
#else
#include <CGAL/AABB_traits.h>
#endif

#include <cassert>

namespace rimload {

namespace {

using Kernel = CGAL::Simple_cartesian<double>;
using SurfaceMesh = CGAL::Surface_mesh<Kernel::Point_3>;
using Primitive = CGAL::AABB_face_graph_triangle_primitive<SurfaceMesh>;
#if __has_include(<CGAL/AABB_traits_3.h>)
using Traits = CGAL::AABB_traits_3<Kernel, Primitive>;  // CGAL 6
#else
using Traits = CGAL::AABB_traits<Kernel, Primitive>;
#endif

// Barycentric coordinates of a point in the plane of a triangle.
Vec3 barycentric(const Vec3& point, const Vec3& a, const Vec3& b, const Vec3& c) {
  const Vec3 normal = (b - a).cross(c - a);
  const double area = normal.squaredNorm();
  const double at_b = (point - a).cross(c - a).dot(normal) / area;
  const double at_c = (b - a).cross(point - a).dot(normal) / area;
  return {1 - at_b - at_c, at_b, at_c};
}

}  // namespace

struct ClosestPoint::Tree {
  TriangleMesh mesh;
  std::vector<Vec3> normals;
  SurfaceMesh surface;
  CGAL::AABB_tree<Traits> boxes;
};

ClosestPoint::ClosestPoint(const TriangleMesh& mesh) : tree_(std::make_unique<Tree>()) {
  assert(!mesh.triangles.empty());
  tree_->mesh = mesh;
  tree_->normals = vertex_normals(mesh);
  SurfaceMesh& surface = tree_->surface;
  for (const Vec3& v : mesh.vertices) surface.add_vertex({v.x(), v.y(), v.z()});
  const auto vertex = [](std::uint32_t k) { return SurfaceMesh::Vertex_index(k); };
  for (const auto& t : mesh.triangles) surface.add_face(vertex(t[0]), vertex(t[1]), vertex(t[2]));
  tree_->boxes.insert(faces(surface).first, faces(surface).second, surface);
  tree_->boxes.accelerate_distance_queries();
}

ClosestPoint::ClosestPoint(ClosestPoint&&) noexcept = default;
ClosestPoint& ClosestPoint::operator=(ClosestPoint&&) noexcept = default;
ClosestPoint::~ClosestPoint() = default;

MeshPoint ClosestPoint::operator()(const Vec3& query) const {
  const auto [point, face] =
      tree_->boxes.closest_point_and_primitive({query.x(), query.y(), query.z()});
  const auto& corners = tree_->mesh.triangles[face.idx()];
  const auto& at = tree_->mesh.vertices;
  MeshPoint out;
  out.foot = {point.x(), point.y(), point.z()};
  const Vec3 weight = barycentric(out.foot, at[corners[0]], at[corners[1]], at[corners[2]]);
  out.normal = (weight[0] * tree_->normals[corners[0]] + weight[1] * tree_->normals[corners[1]] +
                weight[2] * tree_->normals[corners[2]])
                   .normalized();
  const Vec3 away = query - out.foot;
  out.distance = std::copysign(away.norm(), away.dot(out.normal));
  return out;
}

}  // namespace rimload
