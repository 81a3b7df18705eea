// Where lines meet a scan.
#pragma once

#include <memory>
#include <vector>

#include "geometry/mesh.hpp"

namespace rimload {

/// Where a line meets a triangle of a mesh.
struct LineHit {
  double along = 0;             ///< from the line's origin, in lengths of its direction
  Vec3 normal = Vec3::UnitZ();  ///< unit normal of the triangle, by its winding
};

/// Finds where lines meet a mesh by a tree of bounding boxes. The mesh may be any soup of
/// triangles.
class ScanTree {
 public:
  /// @pre the mesh has a triangle
  explicit ScanTree(const TriangleMesh& mesh);
  ScanTree(ScanTree&&) noexcept;
  ScanTree& operator=(ScanTree&&) noexcept;
  ~ScanTree();

  /// Every meeting of the mesh with origin + t direction, |t| <= reach, in no order.
  [[nodiscard]] std::vector<LineHit> hits(const Vec3& origin, const Vec3& direction,
                                          double reach) const;

 private:
  struct Tree;
  std::unique_ptr<Tree> tree_;
};

}  // namespace rimload
