// A face as a file holds it: landmarks with their tissue depth, and where they come from.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/landmark.hpp"
#include "geometry/measurement.hpp"

namespace rimload {

/// A face model: its landmarks, both sides, and where they come from.
struct FaceModel {
  std::string name;
  std::string title;
  std::string provenance;              ///< what is published, what is assumed
  bool symmetric = true;               ///< right side mirrored from the left
  bool child = false;                  ///< no hours are given: tissue data and curves are of adults
  std::vector<Landmark> landmarks;     ///< both sides
  std::vector<MeasureTarget> targets;  ///< what its dimensions were made to be; may be empty
};

/// Reads a `landmarks.json`: `rimload_face` 1, `name`, `title`, `provenance`, `symmetric`, `child`
/// (optional), `landmarks` [{`name`, `side`, `x_mm`, `y_mm`, `z_mm`, `tissue_depth_mm`}], `targets`
/// [{`measure`, `target_mm`, `source`}].
///
/// A symmetric face holds its midline and left landmarks only; the right ones are mirrored here.
/// The file is checked against its schema elsewhere; here a fault stops at the first.
/// @param text the JSON; @param file its name, for messages
/// @throws InputError naming the place at fault
[[nodiscard]] FaceModel read_face(std::string_view text, const std::string& file);

/// The JSON text of a face, one landmark a line, positions rounded to 1e-4 mm.
[[nodiscard]] std::string write_face(const FaceModel& face);

}  // namespace rimload
