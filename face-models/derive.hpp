// Derives the face models from published dimensions (targets.json) and the reference face.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/face_model.hpp"

namespace rimload::face_models {

/// What the data file asks of one face.
struct FaceRequest {
  std::string name;
  std::string title;
  std::string provenance;
  bool moved = true;  ///< false: the reference face, kept as it stands
  std::vector<MeasureTarget> targets;
};

/// The faces of `targets.json` with their target dimensions.
///
/// Means of a sex are taken as they are. For both sexes together, in equal shares,
/// mean = (f + m)/2 and cov_jk = (r_jk s_fj s_fk + r_jk s_mj s_mk)/2 + (m_j - f_j)(m_k - f_k)/4.
/// With R the correlation of face width and face length, a step of `size_step` s and `shape_step` t
/// puts their standard scores at (s sqrt(1+R) - t sqrt(1-R))/sqrt(2) and
/// (s sqrt(1+R) + t sqrt(1-R))/sqrt(2); the other dimensions go to their mean given those two,
/// mu_j + cov_j. cov..^-1 d.
/// @param data text of `targets.json`
/// @param assumed_correlation within a sex, of pairs without a published one; by default the file's
[[nodiscard]] std::vector<FaceRequest> face_requests(std::string_view data);
[[nodiscard]] std::vector<FaceRequest> face_requests(std::string_view data,
                                                     double assumed_correlation);

/// The face asked for, as the reference face moved by `morph`. Tissue depths are the reference's:
/// no source says how they go with a face's size.
/// @throws InternalError when the targets can't be met
[[nodiscard]] FaceModel make_face(const FaceModel& reference, const FaceRequest& request);

}  // namespace rimload::face_models
