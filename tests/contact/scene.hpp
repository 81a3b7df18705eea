// A mask made for these tests, on the reference face.
#pragma once

#include "contact/solve.hpp"
#include "geometry/face_model.hpp"

namespace rimload {

/// The reference face with its tissue, made once.
struct ReferenceFace {
  ReferenceFace();
  FaceModel model;
  SkinMap skin;
  TissueMap tissue;
  LayerModulus modulus;
  [[nodiscard]] FaceField field() const { return {skin, tissue, modulus}; }
};
[[nodiscard]] const ReferenceFace& reference_face();

/// An oronasal mask with all there can be: gas-backed lip with bending and tension, four straps, a
/// pad, two masses, a hose. Traced on the reference face, then proud over the bridge; symmetric.
[[nodiscard]] Mask test_mask(RimSampling sampling = {120, 5});

/// Placed, straps at a tension each [N], gas [N/mm2], head raised.
struct Setting {
  double tension_n = 4;
  double gas_pressure = 1.2e-3;
  Vec3 gravity{0, -0.6, -0.8};
  PlacementOffset offset{};
};

/// The start of an iteration: placed, lip undeflected.
[[nodiscard]] MaskState set_up(MaskOnFace& mask, const Setting& setting);

/// Solves a mask on the reference face from its placement.
[[nodiscard]] PhaseState solve(const Mask& mask, const Setting& setting,
                               const EquilibriumOptions& options = {});

/// Force above moment about the facial origin of what the samples carry, on the mask.
[[nodiscard]] Vec6 contact_wrench(const PhaseState& state);
/// The same of straps, gas, weight and hose as reported.
[[nodiscard]] Vec6 load_wrench(const PhaseState& state);

}  // namespace rimload
