// Landmarks marked on a scan, in a file of their own: JSON or CSV.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/scan_registration.hpp"
#include "units/error.hpp"

namespace rimload {

/// The landmarks of a file.
struct LandmarkFile {
  std::vector<ScanLandmark> landmarks;
  bool confirmed = true;  ///< false: proposed by this program, and nobody has looked at them
};

/// Whether a file's name ends in `.csv`, in any case; every other landmark file is JSON.
[[nodiscard]] bool is_csv(std::string_view file);

/// Reads four or more landmarks: JSON as in `src/case/schema/landmarks.schema.json`, or a table
/// with the columns name, side, x, y and z (an empty side is the midline).
///
/// Beyond the schema: each is a landmark of the reference face, on a side where that has it, and is
/// given once.
/// @param file its name, for messages and for the format
/// @throws InputError with every fault found, by JSON pointer or by line and column
[[nodiscard]] LandmarkFile read_landmark_file(std::string_view text, const std::string& file);

/// The same format written, not confirmed unless said.
[[nodiscard]] std::string write_landmark_file(const LandmarkFile& landmarks);

/// The fault of landmarks that nobody has looked at yet, at their place in the file.
[[nodiscard]] InputError not_confirmed(const std::string& file);

}  // namespace rimload
