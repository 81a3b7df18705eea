// Proposes landmarks on a scan on which nobody has marked any.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/landmark.hpp"
#include "geometry/scan_mesh.hpp"
#include "geometry/scan_registration.hpp"

namespace rimload {

/// What the scan's geometry says for a proposed landmark; no probability.
///
/// - sure: the scan has the landmark's own feature (summit, pit, notch or corner of the profile),
///   curved at least `ScanLimits::feature_curvature_per_mm`, within `feature_shift_mm` of where the
///   face has it that was fitted to the scan without features.
/// - look_closely: there is skin, but no such feature, or one elsewhere; or the landmark has none
///   (corners of the mouth, outer corners of the eyes) or a round one (menton), and follows from
///   the rest of the face.
/// - not_found: no skin there, or what is there is too far off to be skin.
enum class Confidence { sure, look_closely, not_found };
/// `sure`, `look closely` or `not found`.
[[nodiscard]] std::string_view name_of(Confidence confidence);

struct ProposedLandmark {
  std::string name;
  Side side = Side::midline;
  Confidence confidence = Confidence::not_found;
  Vec3 position_scan = Vec3::Zero();  ///< in the scan's own unit and frame; where the face would
                                      ///< have it when not found
  std::string reason;                 ///< what the confidence comes from, for the reader
};

struct ScanProposal {
  ScanRegistration registration;  ///< into the facial frame, by what was found
  bool inside_out = false;        ///< the scan's triangles face inwards
  double model_rms_mm = 0;        ///< the reference, brought to size, against the scan
  std::vector<ProposedLandmark> landmarks;

  [[nodiscard]] std::vector<ScanLandmark> found() const;
};

/// Finds the face (`find_face_pose`), fits the morph's process to it (`landmarks_on_scan`), then
/// looks for the features (`find_feature`). A landmark keeps the place beside its feature that it
/// has on the reference; those found are marked points for a second and third fit, from which the
/// other landmarks follow.
/// @param reference a face as for `face_of_scan`
/// @throws InputError when no face is found, with what was seen instead and what to do
[[nodiscard]] ScanProposal propose_landmarks(const ScanMesh& scan,
                                             std::span<const Landmark> reference,
                                             std::optional<ScanUnit> unit);

}  // namespace rimload
