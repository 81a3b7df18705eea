#include "fit/drawn_fit.hpp"

#include "case/mask_of_case.hpp"

namespace rimload {

DrawnFit drawn_fit(const Estimate& estimate, const FaceModel* model, const UncertainInputs& draw) {
  Case input = with_inputs(estimate.input, draw);
  input.sampling = draw_sampling;
  FaceInUse face = estimate.face;
  if (model != nullptr) {
    input.face = *model;
    face = FaceInUse(*model);
    face.cover = estimate.face.cover;
  }
  face = with_inputs(face, draw);
  Mask mask = with_inputs(make_mask(input), draw);
  return {std::move(input), std::move(face), std::move(mask)};
}

std::vector<double> drawn_straps(std::vector<double> tension_n, const UncertainInputs& draw) {
  for (double& each : tension_n) each *= draw.strap_factor;
  return tension_n;
}

}  // namespace rimload
