// A curved patch laid flat with as little stretch as can be.
#pragma once

#include <vector>

#include "geometry/mesh.hpp"

namespace rimload {

struct FlattenOptions {
  int most_steps = 100;
  /// Ends once a step would lower the mean energy by less than this and 1e-13 of itself.
  double decrement = 1e-16;
};

enum class FlattenEnd {
  converged,
  stalled,    ///< no step lowers the energy any more
  most_steps  ///< not there yet after that many
};

/// A patch laid flat. The singular values of the map from the skin to the plane, s1 >= s2, say how
/// much a triangle is longer in the plane than on the skin.
struct FlatPatch {
  std::vector<Vec2> points;           ///< of the vertices [mm], way round as seen from outside
  std::vector<Vec2> singular_values;  ///< of each triangle, (s1, s2)
  std::vector<double> areas;          ///< of each triangle on the skin [mm2]
  double energy = 0;                  ///< mean of (s1 - 1/s1)^2 + (s2 - 1/s2)^2
  int steps = 0;
  FlattenEnd end = FlattenEnd::converged;
};

/// Lays a patch flat so that the symmetric Dirichlet energy, the mean over the skin of
/// s1^2 + s2^2 + s1^-2 + s2^-2 [Smith & Schaefer 2015, equation 4, cited from memory], is least:
/// zero above 4 exactly where it can lie flat without stretch, and without bound where it would
/// fold. For small strains it is that of a sheet without lateral contraction.
///
/// Newton's method from the conformal map, the Hessian of each triangle made positive by its
/// closed eigenvalues [Smith et al. 2019, cited from memory], steps cut short of any fold.
/// @param patch a disc: one border, no hole; up to a few thousand vertices
/// @throws InternalError when the patch is no disc
[[nodiscard]] FlatPatch flatten(const TriangleMesh& patch, const FlattenOptions& options = {});

/// What a flat piece must do to lie on the skin.
struct PatchStretch {
  double stretch = 0;     ///< longest by this much: 1/s2 - 1
  double shortening = 0;  ///< shortest by this much: 1 - 1/s1

  [[nodiscard]] double most() const { return stretch > shortening ? stretch : shortening; }
};

/// Both, as all of the patch but a share of its area keeps within: beside a slit's tip strain has
/// no bound.
/// @param share_left_out of the area, for each of the two; 0 to 1
[[nodiscard]] PatchStretch stretch_of(const FlatPatch& patch, double share_left_out);

}  // namespace rimload
