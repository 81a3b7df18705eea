#include "case/design_face.hpp"

#include "case/face_file.hpp"

namespace rimload {

std::string_view name_of(WidthLevel level) {
  switch (level) {
    case WidthLevel::bridge: return "bridge";
    case WidthLevel::mouth: return "mouth";
    case WidthLevel::nose: break;
  }
  return "nose";
}

FaceModel design_face_of(const Cushion& cushion) {
  const FaceModel* own = face_model_named(cushion.design_face);
  return own != nullptr ? *own : *face_model_named("reference");
}

double level_mm(WidthLevel level, const Cushion& cushion, const FaceModel& face) {
  const auto height = [&](const char* landmark, Side side) {
    return find_landmark(face.landmarks, landmark, side).position_face.y();
  };
  double y_face = 0;
  switch (level) {
    case WidthLevel::bridge: y_face = height("rhinion", Side::midline); break;
    case WidthLevel::nose: y_face = height("alare", Side::left); break;
    case WidthLevel::mouth: y_face = height("cheilion", Side::left); break;
  }
  return cushion.design_face_scale * (y_face - height("sellion", Side::midline)) +
         cushion.apex_below_sellion_mm;
}

}  // namespace rimload
