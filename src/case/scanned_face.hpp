// A face drawn from the scan that a case names.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "case/json_place.hpp"
#include "geometry/face_model.hpp"

namespace rimload {

/// A face and what is to be said of how it was drawn.
struct FaceOfScan {
  FaceModel face;
  std::vector<std::string> remarks;  ///< the scan's unit first, then how well it is met
};

/// The face that a scan shows, by the points marked on it.
///
/// Refused is a scan that would not carry an estimate: one that lies far from the skin found where
/// rims go, or of which much is missing there (`geometry/data/scan-fitting.json`). What was
/// inferred, filled and left out is in the face's provenance.
/// @param place `{"unit", "landmarks": [{"name", "side", "at_scan_units": [x, y, z]}]}` of a case
///   whose schema was checked; @param case_file that case's name, for messages
/// @param file the scan's name; @param bytes what is in it
/// @throws InputError about the scan under its name, about the marked points at their place
[[nodiscard]] FaceOfScan scanned_face(const JsonPlace& place, const std::string& case_file,
                                      const std::string& file, std::string_view bytes);

}  // namespace rimload
