#include "fit/fit.hpp"

#include "case/mask_of_case.hpp"
#include "fit/dressed.hpp"

namespace rimload {

namespace {

struct FitStart {
  std::optional<EstimateStart> start;
  Reading reading = Reading::whole;
};

// Without the dressings worn.
Estimate estimate_bare(const Case& input, FaceInUse face, FitStart from) {
  Mask mask = make_mask(input);
  StrapSetting straps = set_straps(input, face, mask);
  return estimate_at({.input = input,
                      .face = std::move(face),
                      .mask = std::move(mask),
                      .straps = std::move(straps),
                      .start = std::move(from.start),
                      .reading = input.worn.empty() ? from.reading : Reading::whole});
}

std::vector<WornPiece> worn_pieces(const Estimate& bare) {
  if (bare.input.worn.empty() || !bare.phases.front().seated) return {};
  return pieces_of(bare, bare.input.worn);
}

}  // namespace

Estimate estimate_fit(const Case& input) { return estimate_fit(input, FaceInUse(input.face)); }

Estimate estimate_fit(const Case& input, FaceInUse face, std::optional<EstimateStart> start,
                      Reading reading) {
  Estimate bare = estimate_bare(input, std::move(face), {std::move(start), reading});
  std::vector<WornPiece> pieces = worn_pieces(bare);
  if (pieces.empty()) return bare;
  FaceInUse covered = with_pieces(bare, pieces);
  StrapSetting dressed_straps = set_straps(input, covered, bare.mask);
  return estimate_dressed(bare, std::move(covered), std::move(pieces), std::move(dressed_straps));
}

WornFace face_as_worn(const Case& input, FaceInUse face) {
  if (input.worn.empty()) return {std::move(face), {}};
  Estimate bare = estimate_bare(input, std::move(face), {});
  std::vector<WornPiece> pieces = worn_pieces(bare);
  if (pieces.empty()) return {std::move(bare.face), {}};
  FaceInUse covered = with_pieces(bare, pieces);
  return {std::move(covered), std::move(pieces)};
}

}  // namespace rimload
