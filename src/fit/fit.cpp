#include "fit/fit.hpp"

#include "case/mask_of_case.hpp"
#include "fit/dressed.hpp"

namespace rimload {

Estimate estimate_fit(const Case& input) { return estimate_fit(input, FaceInUse(input.face)); }

Estimate estimate_fit(const Case& input, FaceInUse face, std::optional<EstimateStart> start,
                      Reading reading) {
  Mask mask = make_mask(input);
  StrapSetting straps = set_straps(input, face, mask);
  Estimate bare = estimate_at({.input = input,
                               .face = std::move(face),
                               .mask = std::move(mask),
                               .straps = std::move(straps),
                               .start = std::move(start),
                               .reading = input.worn.empty() ? reading : Reading::whole});
  if (input.worn.empty() || !bare.phases.front().seated) return bare;
  std::vector<WornPiece> pieces = pieces_of(bare, input.worn);
  if (pieces.empty()) return bare;
  FaceInUse covered = with_pieces(bare, pieces);
  StrapSetting dressed_straps = set_straps(input, covered, bare.mask);
  return estimate_dressed(bare, std::move(covered), std::move(pieces), std::move(dressed_straps));
}

}  // namespace rimload
