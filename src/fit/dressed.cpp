#include "fit/dressed.hpp"

#include <algorithm>

#include "fit/estimate_at.hpp"

namespace rimload {

const DressingStiffness& stiffness_of(const Dressing& dressing, Moisture moisture) {
  return moisture == Moisture::dry ? dressing.dry : dressing.moist;
}

double poisson_of(const DressingStiffness& stiffness) {
  return std::clamp(stiffness.compressive / (2 * stiffness.shear) - 1, 0.0, 0.49);
}

std::vector<WornPiece> pieces_of(const Estimate& bare, std::span<const WornDressing> worn) {
  std::vector<WornPiece> out;
  for (const WornDressing& each : worn) {
    if (auto place = dressing_at(dressing_question(bare), each.site)) {
      out.push_back({std::move(*place), each.dressing});
    }
  }
  return out;
}

CoverPatch cover_patch(const WornPiece& piece, Moisture moisture) {
  const DressingStiffness& stiffness = stiffness_of(piece.dressing, moisture);
  const double nu = poisson_of(stiffness);
  return {.outlines = {piece.place.outline},
          .thickness_mm = piece.dressing.thickness_mm,
          .compressive_n_mm2 = stiffness.compressive / (1 - nu * nu),
          .shear_n_mm2 = stiffness.shear,
          .friction = piece.dressing.friction_on_cushion};
}

FaceInUse with_pieces(const Estimate& bare, std::span<const WornPiece> pieces) {
  std::vector<CoverPatch> patches;
  std::vector<std::string> names;  // of the patches
  for (const WornPiece& piece : pieces) {
    const auto known = std::find(names.begin(), names.end(), piece.dressing.name);
    if (known != names.end()) {
      patches[static_cast<std::size_t>(known - names.begin())].outlines.push_back(
          piece.place.outline);
      continue;
    }
    names.push_back(piece.dressing.name);
    patches.push_back(cover_patch(piece, bare.input.skin.moisture));
  }
  FaceInUse out = bare.face;
  out.cover.emplace(out.skin, patches, bare.mask.friction);
  return out;
}

Estimate estimate_dressed(const Estimate& bare, FaceInUse face, std::vector<WornPiece> pieces,
                          StrapSetting straps, std::optional<Balances> start) {
  Estimate out = estimate_at(
      {.input = bare.input,
       .face = std::move(face),
       .mask = bare.mask,
       .straps = std::move(straps),
       .start = EstimateStart{bare.placement, start ? std::move(*start) : balances_of(bare.phases)},
       .reading = Reading::picture});
  out.worn = std::move(pieces);
  read_rest(out);
  return out;
}

}  // namespace rimload
