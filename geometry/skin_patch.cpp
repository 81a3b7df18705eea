#include "geometry/skin_patch.hpp"

namespace rimload {

SkinPatch make_skin_patch(const SkinMap& skin, std::span<const Vec2> polygon_uv,
                          std::span<const SlitLine> slits, const MeshSize& size) {
  PlaneMesh chart = mesh_polygon(polygon_uv, slits, size);
  SkinPatch out;
  out.border = border_of(chart.triangles);
  for (const Vec2& uv : chart.points) out.mesh.vertices.push_back(skin.point(uv));
  out.mesh.triangles = std::move(chart.triangles);
  out.uv = std::move(chart.points);
  return out;
}

}  // namespace rimload
