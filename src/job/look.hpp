// The quick look that a screen follows a hand with: one estimate after the other of nearly the same
// case.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "case/catalogue.hpp"
#include "fit/estimate.hpp"
#include "job/job.hpp"

namespace rimload {

inline constexpr RimSampling moving_sampling{108, 5};

/// Keeps what the next look is likely to need again: catalogue, face, and balances to start from.
/// An answer differs by rounding only from that of a fresh one (below 1e-6 of each value).
class Looker {
 public:
  /// The picture: `scene.json`, `lines.bin` and `field.bin` (`scene_json.hpp`), and `skin.bin` when
  /// the face is another than at the last look. While a hand moves, rim (`moving_sampling`) and
  /// field are coarser, whatever the case says. Never throws, as `run_job`.
  [[nodiscard]] JobOutput look(const LookRequest& request, const ReadFile& read_file);
  /// What the last look at rest found, in numbers and words: `result.json` without what takes long
  /// (swelling, stress in muscle, bands), `places.json` with the outlines of dressing places, and
  /// the finding. Never throws.
  [[nodiscard]] JobOutput tell();

 private:
  [[nodiscard]] Catalogue catalogue_of(std::string_view text, const std::string& file);

  std::string catalogue_text_;  ///< of the catalogue below
  std::string catalogue_file_;
  std::optional<Catalogue> catalogue_;
  std::optional<Estimate> at_rest_;
  std::optional<Estimate> moving_;
  std::vector<Landmark> on_screen_;  ///< whose skin was sent last
};

}  // namespace rimload
