// The exact closest point on a triangle mesh.
#pragma once

#include <memory>

#include "geometry/mesh.hpp"

namespace rimload {

/// The closest point of a mesh to a query.
struct MeshPoint {
  Vec3 foot = Vec3::Zero();     ///< on the mesh [mm]
  Vec3 normal = Vec3::UnitZ();  ///< outward, the vertices' normals interpolated
  double distance = 0;          ///< signed, positive on the side the normal points to [mm]
};

/// Finds closest points on a mesh by a tree of bounding boxes, and so is exact to rounding.
class ClosestPoint {
 public:
  /// @pre the mesh has a triangle
  explicit ClosestPoint(const TriangleMesh& mesh);
  ClosestPoint(ClosestPoint&&) noexcept;
  ClosestPoint& operator=(ClosestPoint&&) noexcept;
  ~ClosestPoint();

  [[nodiscard]] MeshPoint operator()(const Vec3& query) const;

 private:
  struct Tree;
  std::unique_ptr<Tree> tree_;
};

}  // namespace rimload
