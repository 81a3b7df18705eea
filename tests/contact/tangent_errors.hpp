// How far the stated derivatives of a mask's forces are from central finite differences.
#pragma once

#include "contact/mask_on_face.hpp"

namespace rimload {

/// Relative error, in the norm of the whole matrix, of the derivatives by pose and by lip. A turn
/// counts as a shift at 60 mm, and a moment likewise.
struct TangentErrors {
  double by_pose, by_lip;
};
[[nodiscard]] TangentErrors tangent_errors(MaskOnFace& mask, const MaskState& state);

/// The worst of so many seated poses: pushed 1 to 4 mm on from placement, shifted and turned, lip
/// lifted unevenly.
struct WorstTangent {
  double by_pose = 0, by_lip = 0;
  std::size_t touching = 0;  ///< samples, of all poses together
};
[[nodiscard]] WorstTangent worst_tangent(MaskOnFace& mask, int n_poses);

}  // namespace rimload
