// A face drawn from the scan that a case names.
#pragma once

#include <string>
#include <vector>

#include "case/json_place.hpp"
#include "case/read_case.hpp"
#include "geometry/face_model.hpp"

namespace rimload {

/// A face and what is to be said of how it was drawn.
struct FaceOfScan {
  FaceModel face;
  std::vector<std::string> remarks;  ///< the scan's unit first, then how well it is met
  double residual_mm = 0;            ///< RMS of the scan to the face's skin where rims go
};

/// The face that a scan shows, by the points marked on it.
///
/// Refused is a scan that would not carry an estimate: one that lies far from the skin found where
/// rims go, or of which much is missing there (`geometry/data/scan-fitting.json`). What was
/// inferred, filled and left out is in the face's provenance.
/// @param place `{"file", "unit", "landmarks"}` of a case whose schema was checked; the landmarks
///   are `[{"name", "side", "at_scan_units": [x, y, z]}]` or a file that holds them
/// @param case_file that case's name: messages show it, and paths start from its folder
/// @throws InputError about the scan or the landmark file under their names, about a file that is
///   not there or marked points at their place; about landmarks that are proposed, not confirmed
[[nodiscard]] FaceOfScan scanned_face(const JsonPlace& place, const std::string& case_file,
                                      const ReadFile& read_file);

}  // namespace rimload
