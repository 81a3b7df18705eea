// A case as one draw of what can't be known has it, ready to be solved.
#pragma once

#include "fit/trial.hpp"
#include "fit/uncertainty.hpp"

namespace rimload {

/// Rim of the draws: readings within a few per cent of the usual one's, see the test.
inline constexpr RimSampling draw_sampling{96, 5};

/// Grid of the skin of drawn faces, which are many, only as wide as rims reach: readings within
/// half a per cent of those on the usual grid, see the test.
inline constexpr SkinMap::Options draw_skin{.spacing_mm = 2, .half_width_mm = 90};

/// A drawn face made ready, dressings and Poisson's ratio as with another one.
[[nodiscard]] FaceInUse face_of_draw(const FaceInUse& like, const FaceModel& model);

struct DrawnFit {
  Case input;
  FaceInUse face;
  Mask mask;
};

/// The estimate's case, face and mask in one draw, the rim coarser (`draw_sampling`), its dressings
/// as they are.
/// @param model the face drawn, or null for the estimate's own
[[nodiscard]] DrawnFit drawn_fit(const Estimate& estimate, const FaceModel* model,
                                 const UncertainInputs& draw);

/// Tensions as a hand sets them in a draw.
[[nodiscard]] std::vector<double> drawn_straps(std::vector<double> tension_n,
                                               const UncertainInputs& draw);

}  // namespace rimload
