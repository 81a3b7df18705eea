#ifndef CGAL_EIGEN3_ENABLED
#define CGAL_EIGEN3_ENABLED 1  // the parameterization solves with Eigen
#endif

#include "geometry/conformal_map.hpp"

#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Simple_cartesian.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/Surface_mesh_parameterization/Barycentric_mapping_parameterizer_3.h>
#include <CGAL/Surface_mesh_parameterization/LSCM_parameterizer_3.h>
#include <CGAL/Surface_mesh_parameterization/parameterize.h>

#include <algorithm>
#include <cmath>

#include "geometry/polygon.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

namespace parameterization = CGAL::Surface_mesh_parameterization;
using Kernel = CGAL::Simple_cartesian<double>;
using Surface = CGAL::Surface_mesh<Kernel::Point_3>;

Surface surface_of(const TriangleMesh& patch) {
  Surface out;
  for (const Vec3& v : patch.vertices) out.add_vertex({v.x(), v.y(), v.z()});
  const auto vertex = [](std::uint32_t k) { return Surface::Vertex_index(k); };
  for (const auto& t : patch.triangles) {
    if (out.add_face(vertex(t[0]), vertex(t[1]), vertex(t[2])) == Surface::null_face()) {
      throw InternalError("the patch to flatten is no surface");
    }
  }
  return out;
}

template <typename Parameterizer>
std::vector<Vec2> parameterized(Surface& surface) {
  const auto border = CGAL::Polygon_mesh_processing::longest_border(surface).first;
  if (border == Surface::null_halfedge()) {
    throw InternalError("the patch to flatten has no border");
  }
  const auto uv = surface.add_property_map<Surface::Vertex_index, Kernel::Point_2>("v:flat").first;
  const auto end = parameterization::parameterize(surface, Parameterizer(), border, uv);
  if (end != parameterization::OK) {
    throw InternalError(std::string("the patch cannot be mapped into the plane: ") +
                        parameterization::get_error_message(end));
  }
  std::vector<Vec2> out;
  for (const Surface::Vertex_index v : surface.vertices()) out.emplace_back(uv[v].x(), uv[v].y());
  return out;
}

void scale_to_area(const TriangleMesh& patch, std::vector<Vec2>& points) {
  double there = 0;
  double here = 0;
  for (const auto& t : patch.triangles) {
    there += (patch.vertices[t[1]] - patch.vertices[t[0]])
                 .cross(patch.vertices[t[2]] - patch.vertices[t[0]])
                 .norm();
    here += cross(points[t[1]] - points[t[0]], points[t[2]] - points[t[0]]);
  }
  const double scale = std::sqrt(there / here);
  for (Vec2& point : points) point *= scale;
}

}  // namespace

bool is_unfolded(const TriangleMesh& patch, const std::vector<Vec2>& points) {
  return std::all_of(patch.triangles.begin(), patch.triangles.end(), [&](const auto& t) {
    return cross(points[t[1]] - points[t[0]], points[t[2]] - points[t[0]]) > 0;
  });
}

std::vector<Vec2> conformal_map(const TriangleMesh& patch) {
  Surface surface = surface_of(patch);
  std::vector<Vec2> points =
      parameterized<parameterization::LSCM_parameterizer_3<Surface>>(surface);
  if (!is_unfolded(patch, points)) {
    points = parameterized<parameterization::Barycentric_mapping_parameterizer_3<Surface>>(surface);
    if (!is_unfolded(patch, points)) throw InternalError("the patch to flatten is no disc");
  }
  scale_to_area(patch, points);
  return points;
}

}  // namespace rimload
