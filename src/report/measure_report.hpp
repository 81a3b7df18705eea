// A measured face in words and as tables.
#pragma once

#include <string>

#include "case/measured_face.hpp"

namespace rimload {

/// At most 15 lines: the face's size against the population, questions about doubtful values, which
/// measurement would narrow the landmarks under the rim most, what is assumed.
[[nodiscard]] std::string measure_finding(const MeasuredFace& face, SealRegion region);

/// Every dimension as a row: given, most likely, 10 and 90 %, mean and SD of the population, the
/// most likely value with assumed correlations of 0 and 0.5, and how well the landmarks under the
/// rim would be known were it measured too.
[[nodiscard]] std::string measures_csv(const MeasuredFace& face, SealRegion region);

/// Position and SD of each landmark of the midline and the left side.
[[nodiscard]] std::string landmark_bands_csv(const MeasuredFace& face);

}  // namespace rimload
