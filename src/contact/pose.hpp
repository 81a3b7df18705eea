// Where the rigid frame of a mask is.
#pragma once

#include "geometry/vec.hpp"

namespace rimload {

/// Rigid motion from the mask frame to the facial frame: x_face = R x_mask + t.
struct Pose {
  Vec3 translation_mm = Vec3::Zero();
  Mat3 rotation = Mat3::Identity();

  [[nodiscard]] bool operator==(const Pose& other) const = default;
  [[nodiscard]] Vec3 operator*(const Vec3& point_mask) const {
    return rotation * point_mask + translation_mm;
  }
  /// The rotation as axis times angle [rad].
  [[nodiscard]] Vec3 rotation_vector() const;
  /// This pose moved by a translation and turned about a point that moves along with it.
  [[nodiscard]] Pose moved(const Vec3& shift, const Vec3& turn_rad, const Vec3& about_mask) const;
};

/// The rotation by |v| about v (Rodrigues).
[[nodiscard]] Mat3 rotation_from_vector(const Vec3& turn_rad);

}  // namespace rimload
