#include "case/mask_of_case.hpp"

namespace rimload {

namespace {

Strap one_side(const StrapPair& pair, Side side, const Vec3& tragion_face) {
  const Vec3 mirror(side == Side::right ? -1 : 1, 1, 1);
  return {.name = pair.name + "_" + std::string(name_of(side)),
          .side = side,
          .anchor_mask = mirror.cwiseProduct(pair.anchor_mask),
          .exit_face = tragion_face + mirror.cwiseProduct(pair.exit_from_tragion),
          .stiffness_n_mm = pair.stiffness_n_mm,
          .width_mm = pair.width_mm,
          .bearings = pair.bearings};
}

}  // namespace

Mask make_mask(const Case& input) {
  const Cushion& cushion = input.cushion;
  Mask mask;
  mask.rim = sample_rim(cushion.rim, input.sampling);
  mask.lip = cushion.lip;
  for (const StrapPair& pair : cushion.straps) {
    for (const Side side : {Side::left, Side::right}) {
      const Landmark& tragion = find_landmark(input.face.landmarks, "tragion", side);
      mask.straps.push_back(one_side(pair, side, tragion.position_face));
    }
  }
  mask.pad = cushion.pad;
  mask.masses = cushion.masses;
  mask.hose_pull_n = cushion.hose_pull_n;
  mask.hose_point_mask = cushion.hose_point_mask;
  mask.friction = cushion.friction;
  mask.apex_below_sellion_mm = cushion.apex_below_sellion_mm;
  return mask;
}

}  // namespace rimload
