// Outlines and curved patches whose flattening is known.
#pragma once

#include <cmath>
#include <numbers>

#include "geometry/mesh.hpp"
#include "geometry/plane_mesh.hpp"

namespace rimload {

/// A regular polygon inscribed in a circle about the origin.
inline Polygon disc(double radius_mm, int n_corners) {
  Polygon out;
  for (int k = 0; k < n_corners; ++k) {
    const double angle = 2 * std::numbers::pi * k / n_corners;
    out.emplace_back(radius_mm * std::cos(angle), radius_mm * std::sin(angle));
  }
  return out;
}

/// The mesh with each point moved into space by `place`.
template <typename Place>
TriangleMesh lifted(const PlaneMesh& mesh, Place&& place) {
  TriangleMesh out;
  for (const Vec2& point : mesh.points) out.vertices.push_back(place(point));
  out.triangles = mesh.triangles;
  return out;
}

/// Rows of points with triangles between; every edge along a row's number lies in one plane.
inline PlaneMesh grid_mesh(int n_columns, int n_rows, const Vec2& step_mm) {
  PlaneMesh out;
  for (int j = 0; j <= n_rows; ++j) {
    for (int i = 0; i <= n_columns; ++i) out.points.emplace_back(i * step_mm.x(), j * step_mm.y());
  }
  const auto index = [&](int i, int j) {
    return static_cast<std::uint32_t>(j * (n_columns + 1) + i);
  };
  for (int j = 0; j < n_rows; ++j) {
    for (int i = 0; i < n_columns; ++i) {
      out.triangles.push_back({index(i, j), index(i + 1, j), index(i + 1, j + 1)});
      out.triangles.push_back({index(i, j), index(i + 1, j + 1), index(i, j + 1)});
    }
  }
  return out;
}

/// The point of a sphere at a geodesic distance from its pole, in the direction of a plane point.
inline Vec3 on_sphere(const Vec2& point, double radius_mm) {
  const double r = point.norm();
  const double scale = r > 0 ? radius_mm * std::sin(r / radius_mm) / r : 1;
  return {scale * point.x(), scale * point.y(), radius_mm * std::cos(r / radius_mm)};
}

/// The point of a cylinder about y at an arc length x from its front.
inline Vec3 on_cylinder(const Vec2& point, double radius_mm) {
  const double angle = point.x() / radius_mm;
  return {radius_mm * std::sin(angle), point.y(), radius_mm * std::cos(angle)};
}

}  // namespace rimload
