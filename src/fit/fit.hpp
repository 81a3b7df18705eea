// The whole job: a case in, an estimate out.
#pragma once

#include "fit/estimate_at.hpp"

namespace rimload {

/// Places the mask, finds how tight the straps are, balances every phase and reads off pressure,
/// seal, leak, dressing places and cautions.
///
/// A mask that does not seat is a result with a reason. Deterministic.
/// @throws InputError when the case can't be set up (a landmark is missing, a word for strap
/// tension has no meaning for the cushion)
[[nodiscard]] Estimate estimate_fit(const Case& input);
/// The same on the case's face, made ready before.
/// @pre made of that face
[[nodiscard]] Estimate estimate_fit(const Case& input, FaceInUse face,
                                    std::optional<EstimateStart> start = {},
                                    Reading reading = Reading::whole);

/// A face with the dressings worn on it.
struct WornFace {
  FaceInUse face;
  std::vector<WornPiece> pieces;  ///< without those of sites that nothing presses
};
/// The face on which a case is estimated: its dressings placed as the mask without them presses the
/// skin at the case's straps. Bare when nothing is worn or that mask does not seat.
/// @pre made of the case's face, bare
[[nodiscard]] WornFace face_as_worn(const Case& input, FaceInUse face);

}  // namespace rimload
