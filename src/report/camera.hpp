// From the facial frame to a picture.
#pragma once

#include <string_view>

#include "geometry/vec.hpp"
#include "report/scene.hpp"

namespace rimload {

/// `front`, `left` or `right`.
[[nodiscard]] std::string_view name_of(View view);

/// Orthographic projection. Seen from the front, the wearer's left is on the right of the
/// picture; seen from the wearer's left, the nose points to the left.
struct Camera {
  View view = View::front;
  double px_per_mm = 5;
  Vec2 centre_px = Vec2::Zero();     ///< where the centre of sight lands
  Vec2 centre_sight = Vec2::Zero();  ///< its horizontal and vertical coordinate [mm]

  /// Horizontal (to the right), vertical (up) and depth (towards the viewer) [mm].
  [[nodiscard]] Vec3 sight(const Vec3& point_face) const;
  /// Picture coordinates x, y (down) [px] and depth towards the viewer [mm].
  [[nodiscard]] Vec3 project(const Vec3& point_face) const;
  /// Unit vector from the face to the viewer.
  [[nodiscard]] Vec3 towards_viewer() const;
};

/// Whether nothing of the skin lies between a point on or above the skin and the viewer.
/// @param point_face facial frame [mm]
[[nodiscard]] bool is_visible(const SkinMap& skin, const Vec3& point_face, View view);

}  // namespace rimload
