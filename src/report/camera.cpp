#include "report/camera.hpp"

namespace rimload {

std::string_view name_of(View view) {
  switch (view) {
    case View::left: return "left";
    case View::right: return "right";
    case View::front: break;
  }
  return "front";
}

Vec3 Camera::sight(const Vec3& p) const {
  switch (view) {
    case View::left: return {-p.z(), p.y(), p.x()};
    case View::right: return {p.z(), p.y(), -p.x()};
    case View::front: break;
  }
  return p;
}

Vec3 Camera::project(const Vec3& point_face) const {
  const Vec3 s = sight(point_face);
  return {centre_px.x() + (s.x() - centre_sight.x()) * px_per_mm,
          centre_px.y() - (s.y() - centre_sight.y()) * px_per_mm, s.z()};
}

Vec3 Camera::towards_viewer() const {
  switch (view) {
    case View::left: return Vec3::UnitX();
    case View::right: return -Vec3::UnitX();
    case View::front: break;
  }
  return Vec3::UnitZ();
}

bool is_visible(const SkinMap& skin, const Vec3& point_face, View view) {
  // March to the viewer; start a little off, so that skin under the point itself does not count.
  constexpr double first_mm = 3;
  constexpr double step_mm = 1.5;
  constexpr double reach_mm = 120;
  const Vec3 towards = Camera{.view = view}.towards_viewer();
  const Vec3 start = point_face + 1.5 * skin.normal(SkinMap::chart(point_face));
  for (double s = first_mm; s < reach_mm; s += step_mm) {
    const Vec3 here = start + s * towards;
    if (here.z() < SkinMap::axis_z_mm) break;  // behind the map
    if (skin.first_order_distance(here) < 0) return false;
  }
  return true;
}

}  // namespace rimload
