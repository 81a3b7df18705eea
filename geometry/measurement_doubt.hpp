// Plain questions about measurements that are impossible, mistyped or unusual.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "geometry/face_prior.hpp"

namespace rimload {

enum class DoubtKind {
  other_unit,        ///< ten times or a tenth of it would be usual
  part_above_whole,  ///< longer than what it is a part of
  swapped,           ///< with another it would be usual
  beyond,            ///< farther from the mean than any face is made
  unusual,           ///< far from the mean
  unlike_others      ///< usual by itself, but not beside the other measurements
};

struct MeasurementDoubt {
  DoubtKind kind = DoubtKind::unusual;
  std::vector<Measure> about;  ///< one or two
  std::string question;        ///< one plain sentence or two
  /// No face is made of it (the first four kinds); otherwise it is used as it stands.
  [[nodiscard]] bool refused() const { return kind < DoubtKind::unusual; }
};

/// The questions, those that stop first; at most one a measurement.
///
/// z = (y - mean)/sqrt(sd^2 + N) of the population, linearised at its mean face. Beside the
/// others: z_i = [S^-1 (y - mean)]_i / sqrt([S^-1]_ii) with S = H C H' + N, the residual of y_i
/// against its prediction from the rest [Rasmussen & Williams 2006, equation 5.12]. The limits are
/// in `geometry/data/face-measuring.json`.
[[nodiscard]] std::vector<MeasurementDoubt> doubts_about(
    const FacePrior& prior, std::span<const FaceMeasurement> measurements);

}  // namespace rimload
