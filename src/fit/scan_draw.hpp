// A scanned face as it may be, drawn about what the scan showed.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "case/case.hpp"

namespace rimload {

/// Draws faces about a scanned one.
///
/// Each landmark moves along the skin's normal there by a Gaussian process with the scan's residual
/// for its SD and exp(-d^2/(2 l^2)) between two places d apart [Rasmussen & Williams 2006, equation
/// 4.9]; all tissue depths take one factor, even on a logarithmic scale, since a scan shows no
/// bone. Length l and the factor's range are of `data/uncertainty.json`, "scan".
class ScanSampler {
 public:
  /// @param residual_mm RMS of the scan to the skin where rims go, 0 or more
  ScanSampler(FaceModel face, double residual_mm);
  /// @param seed the same seed, the same face
  [[nodiscard]] FaceModel draw(unsigned seed) const;

 private:
  FaceModel face_;
  std::vector<Vec3> normals_;
  Eigen::MatrixXd factor_;  ///< of the process's covariance [mm]
};

/// What draws assume of a scanned face, a sentence; empty for any other face.
[[nodiscard]] std::string scan_draw_words(const Case& input);

}  // namespace rimload
