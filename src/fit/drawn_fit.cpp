#include "fit/drawn_fit.hpp"

#include "case/mask_of_case.hpp"

namespace rimload {

FaceInUse face_of_draw(const FaceInUse& like, const FaceModel& model) {
  FaceInUse out = like;
  out.skin = SkinMap(model.landmarks, draw_skin);
  out.tissue = TissueMap(out.skin, model.landmarks);
  out.site_of = SiteFinder(model.landmarks);
  return out;
}

DrawnFit drawn_fit(const Estimate& estimate, const FaceModel* model, const UncertainInputs& draw) {
  Case input = with_inputs(estimate.input, draw);
  input.sampling = draw_sampling;
  FaceInUse face = estimate.face;
  if (model != nullptr) {
    input.face = *model;
    face = face_of_draw(estimate.face, *model);
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
