#include "geometry/plane_mesh.hpp"

#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Delaunay_mesh_face_base_2.h>
#include <CGAL/Delaunay_mesh_size_criteria_2.h>
#include <CGAL/Delaunay_mesh_vertex_base_2.h>
#include <CGAL/Delaunay_mesher_2.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>

#include "units/error.hpp"

namespace rimload {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using VertexBase = CGAL::Delaunay_mesh_vertex_base_2<Kernel>;
using FaceBase = CGAL::Delaunay_mesh_face_base_2<Kernel>;
using Cells = CGAL::Triangulation_data_structure_2<VertexBase, FaceBase>;
using Triangulation =
    CGAL::Constrained_Delaunay_triangulation_2<Kernel, Cells, CGAL::Exact_predicates_tag>;
using Criteria = CGAL::Delaunay_mesh_size_criteria_2<Triangulation>;
using Point = Triangulation::Point;
using Face = Triangulation::Face_handle;
using Vertex = Triangulation::Vertex_handle;

Point point_of(const Vec2& at) { return {at.x(), at.y()}; }
Vec2 vector_of(const Point& at) { return {at.x(), at.y()}; }

Vec2 centre_of(const Face& face) {
  return (vector_of(face->vertex(0)->point()) + vector_of(face->vertex(1)->point()) +
          vector_of(face->vertex(2)->point())) /
         3;
}

double area_of(const Face& face) {
  const Vec2 a = vector_of(face->vertex(0)->point());
  const Vec2 ab = vector_of(face->vertex(1)->point()) - a;
  const Vec2 ac = vector_of(face->vertex(2)->point()) - a;
  return 0.5 * cross(ab, ac);
}

// Faces that hang together by edges, the part of the largest area.
std::set<Face> largest_part(const std::set<Face>& faces) {
  std::set<Face> left = faces;
  std::set<Face> best;
  double best_area = 0;
  while (!left.empty()) {
    std::vector<Face> queue{*left.begin()};
    left.erase(left.begin());
    std::set<Face> part;
    double area = 0;
    while (!queue.empty()) {
      const Face face = queue.back();
      queue.pop_back();
      part.insert(face);
      area += area_of(face);
      for (int k = 0; k < 3; ++k) {
        const auto next = left.find(face->neighbor(k));
        if (next == left.end()) continue;
        queue.push_back(*next);
        left.erase(next);
      }
    }
    if (area > best_area) {
      best_area = area;
      best = std::move(part);
    }
  }
  return best;
}

// Walks round the faces with the inside to the left, from the lowest of the leftmost points.
Polygon outer_edge(const std::set<Face>& faces) {
  Face face;
  int at = 0;  // the edge opposite to this corner is on the border
  const Point* first = nullptr;
  for (const Face& each : faces) {
    for (int k = 0; k < 3; ++k) {
      if (faces.contains(each->neighbor(k))) continue;
      const Point& from = each->vertex(Triangulation::ccw(k))->point();
      if (first == nullptr || from < *first) {
        first = &from;
        face = each;
        at = k;
      }
    }
  }
  Polygon out;
  const Face start = face;
  const int start_at = at;
  do {
    out.push_back(vector_of(face->vertex(Triangulation::ccw(at))->point()));
    // On to the next edge about the point ahead, turning inside the faces.
    const Vertex ahead = face->vertex(Triangulation::cw(at));
    at = Triangulation::ccw(at);
    while (faces.contains(face->neighbor(at))) {
      face = face->neighbor(at);
      at = Triangulation::cw(face->index(ahead));
    }
  } while (face != start || at != start_at);
  return out;
}

Polygon without_near_points(std::span<const Vec2> outline, double nearest_mm) {
  Polygon out;
  for (const Vec2& point : outline) {
    if (out.empty() || (point - out.back()).norm() >= nearest_mm) out.push_back(point);
  }
  while (out.size() > 1 && (out.front() - out.back()).norm() < nearest_mm) out.pop_back();
  return out;
}

// On whole steps, points that were meant to lie on one line do, or lie off it by more than
// rounding: a triangle between them is either none or of a side that can be told. Crossings found
// twice meet.
Polygon on_whole_steps(Polygon polygon) {
  constexpr double step_mm = 1e-6;
  for (Vec2& point : polygon) point = (point / step_mm).array().round().matrix() * step_mm;
  return polygon;
}

// Where an outline comes back to one of its points, it is cut there; the larger loop is kept.
Polygon without_pinches(Polygon outline) {
  for (std::size_t k = 0; k < outline.size();) {
    const auto first = outline.begin() + static_cast<std::ptrdiff_t>(k);
    const auto again = std::find(first + 1, outline.end(), *first);
    if (again == outline.end()) {
      ++k;
      continue;
    }
    Polygon loop(first, again);
    Polygon rest(again, outline.end());
    rest.insert(rest.end(), outline.begin(), first);
    outline = signed_area(loop) > signed_area(rest) ? std::move(loop) : std::move(rest);
    k = 0;
  }
  return outline;
}

Triangulation refined(std::span<const Vec2> polygon, std::span<const SlitLine> slits, double edge) {
  Triangulation mesh;
  const auto insert = [&](std::span<const Vec2> line, bool closed) {
    std::vector<Vertex> at;
    for (const Vec2& point : line) at.push_back(mesh.insert(point_of(point)));
    for (std::size_t k = 0; k + 1 < at.size(); ++k) mesh.insert_constraint(at[k], at[k + 1]);
    if (closed) mesh.insert_constraint(at.back(), at.front());
  };
  insert(polygon, true);
  for (const SlitLine& slit : slits) insert(slit, false);
  constexpr double sine_squared = 0.125;  // of the least angle: the bound that always ends
  CGAL::Delaunay_mesher_2<Triangulation, Criteria> mesher(mesh, Criteria(sine_squared, edge));
  mesher.refine_mesh();
  return mesh;
}

// Corners that stay joined when the mesh is opened along its inner constraints.
class JoinedCorners {
 public:
  explicit JoinedCorners(std::size_t n) : parent_(n) {
    std::iota(parent_.begin(), parent_.end(), 0);
  }
  [[nodiscard]] std::size_t root(std::size_t k) const {
    while (parent_[k] != k) k = parent_[k];
    return k;
  }
  // The lower root stays, so that numbers follow the order of the triangles.
  void join(std::size_t a, std::size_t b) {
    const auto [low, high] = std::minmax({root(a), root(b)});
    parent_[high] = low;
  }

 private:
  std::vector<std::size_t> parent_;
};

PlaneMesh opened(const Triangulation& mesh) {
  std::vector<Face> faces;
  std::map<Face, std::size_t> number;
  for (auto f = mesh.finite_faces_begin(); f != mesh.finite_faces_end(); ++f) {
    if (!f->is_in_domain()) continue;
    number[f] = faces.size();
    faces.emplace_back(f);
  }
  JoinedCorners corners(3 * faces.size());
  for (std::size_t n = 0; n < faces.size(); ++n) {
    for (int k = 0; k < 3; ++k) {
      const auto other = number.find(faces[n]->neighbor(k));
      if (other == number.end() || faces[n]->is_constrained(k)) continue;
      for (const int corner : {Triangulation::ccw(k), Triangulation::cw(k)}) {
        const int there = faces[other->second]->index(faces[n]->vertex(corner));
        corners.join(3 * n + static_cast<std::size_t>(corner),
                     3 * other->second + static_cast<std::size_t>(there));
      }
    }
  }
  PlaneMesh out;
  std::map<std::size_t, std::uint32_t> point_of_root;
  for (std::size_t n = 0; n < faces.size(); ++n) {
    auto& triangle = out.triangles.emplace_back();
    for (std::size_t k = 0; k < 3; ++k) {
      const auto [place, fresh] = point_of_root.try_emplace(
          corners.root(3 * n + k), static_cast<std::uint32_t>(out.points.size()));
      if (fresh) out.points.push_back(vector_of(faces[n]->vertex(static_cast<int>(k))->point()));
      triangle[k] = place->second;
    }
  }
  return out;
}

}  // namespace

Polygon simple_outline(std::span<const Vec2> outline, double nearest_mm) {
  const Polygon points = on_whole_steps(without_near_points(outline, nearest_mm));
  if (points.size() < 3) throw InternalError("an outline of fewer than three points");
  Triangulation pieces;
  for (std::size_t k = 0; k < points.size(); ++k) {
    pieces.insert_constraint(point_of(points[k]), point_of(points[(k + 1) % points.size()]));
  }
  std::set<Face> inside;
  for (auto f = pieces.finite_faces_begin(); f != pieces.finite_faces_end(); ++f) {
    if (winding_number(points, centre_of(f)) != 0) inside.insert(f);
  }
  if (inside.empty()) throw InternalError("an outline that encloses nothing");
  return without_near_points(without_pinches(on_whole_steps(outer_edge(largest_part(inside)))),
                             nearest_mm);
}

PlaneMesh mesh_polygon(std::span<const Vec2> polygon, std::span<const SlitLine> slits,
                       const MeshSize& size) {
  constexpr double coarser = 1.15;
  const double longest = extent_of(polygon).size().norm();
  for (double edge = size.edge_mm;;) {
    PlaneMesh out = opened(refined(polygon, slits, edge));
    if (out.points.size() <= size.most_points || edge > longest) return out;
    // Points go with the square of the edge, but for those that the border needs.
    edge *= std::max(coarser, 0.9 * std::sqrt(static_cast<double>(out.points.size()) /
                                              static_cast<double>(size.most_points)));
  }
}

std::vector<std::uint32_t> border_of(std::span<const std::array<std::uint32_t, 3>> triangles) {
  std::set<std::pair<std::uint32_t, std::uint32_t>> edges;
  for (const auto& t : triangles) {
    for (std::size_t k = 0; k < 3; ++k) edges.emplace(t[k], t[(k + 1) % 3]);
  }
  std::map<std::uint32_t, std::uint32_t> next;
  for (const auto& [from, to] : edges) {
    if (!edges.contains({to, from})) next[from] = to;
  }
  std::vector<std::uint32_t> out;
  if (next.empty()) return out;
  const std::uint32_t first = next.begin()->first;
  for (std::uint32_t at = first; out.empty() || at != first; at = next.at(at)) out.push_back(at);
  return out;
}

}  // namespace rimload
