// Newton's method for the balance of a mask.
#pragma once

#include "contact/mask_on_face.hpp"

namespace rimload {

/// Where an iteration stopped and why.
struct Solution {
  MaskState state;
  Termination termination = Termination::evaluation_limit;
  int evaluations = 0;
  double force_residual_n = 0;
  double moment_residual_n_mm = 0;  ///< about the facial origin
  double lip_residual_n_mm = 0;
};

/// Finds pose and lip displacements in balance, starting at `start`.
///
/// First Newton's method with capped steps, at most 10 of them. If that does not settle, the mask
/// is let go again from `start` and followed to its rest as if it moved through a viscous fluid: a
/// Newton step with a drag on frame and lip that fades as the forces come into balance
/// (pseudo-transient continuation; Kelley and Keyes 1998, cited from memory). One more step after
/// convergence polishes the result. Where the force jumps, as a sample's foot does from one flank
/// of a fold to the other, and balances on neither side, the state of least residual is the answer.
/// Serial and deterministic.
/// @pre `mask.place` and `mask.set_gas_and_gravity` were called
[[nodiscard]] Solution solve_balance(MaskOnFace& mask, const MaskState& start,
                                     const EquilibriumOptions& options);

/// Solves from a state, leaves the balance found in it, and describes that.
[[nodiscard]] PhaseState balance_phase(MaskOnFace& mask, MaskState& state,
                                       const EquilibriumOptions& options);

}  // namespace rimload
