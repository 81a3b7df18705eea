// Faces of a population as a Gaussian process of landmarks, and the face that measurements leave.
#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/face_population.hpp"
#include "geometry/half_face.hpp"

namespace rimload {

enum class LengthUnit { mm, cm };
[[nodiscard]] std::string_view name_of(LengthUnit unit);

/// A dimension as somebody took it.
struct FaceMeasurement {
  Measure measure = Measure::face_width;
  double value_mm = 0;
  LengthUnit unit = LengthUnit::mm;  ///< in which it was given, for questions about it
};

/// SD of one reading, from `geometry/data/face-measuring.json` (assumed). [mm]
[[nodiscard]] double measuring_sd_mm();

/// Faces of a population: symmetric, sellion at the origin, changes in `HalfFace` coordinates
/// distributed as N(0, covariance) about a mean face that has the published means.
///
/// covariance = K + G (S - J K J') G', G = K J' (J K J')^-1: the displacements of `morph.hpp`,
/// given symmetry, with the spread S of the published dimensions put in place of their own, J K J'.
/// A dimension without a published spread (sellion to supramentale) so follows from the others, the
/// reference face and the assumed bumps.
struct FacePrior {
  FacePopulation population;
  std::vector<Landmark> mean;
  HalfFace half;
  Eigen::MatrixXd covariance;  ///< [mm2]
  Eigen::MatrixXd gain;        ///< G, change by the population's dimensions
};

/// @param reference a symmetric face; for children it is scaled to their size first
/// @throws InternalError when no face has the published means
[[nodiscard]] FacePrior make_face_prior(std::span<const Landmark> reference,
                                        FacePopulation population);

/// What is believed of one dimension, 10 to 90 % between low and high.
struct MeasureBand {
  Measure measure = Measure::face_width;
  double likeliest_mm = 0;
  double sd_mm = 0;
  double low_mm = 0;
  double high_mm = 0;
};
using MeasureBands = std::array<MeasureBand, all_measures.size()>;

/// The population before anything is measured, in the order of `all_measures`.
[[nodiscard]] MeasureBands bands_of(const FacePrior& prior);

/// The face that measurements leave.
struct FacePosterior {
  std::vector<Landmark> landmarks;  ///< the most likely face
  Eigen::VectorXd change;           ///< from the mean face
  Eigen::MatrixXd covariance;       ///< of the change, linearised at the most likely face [mm2]
  MeasureBands bands;
  std::vector<Measure> given;
  bool settled = false;  ///< false: no face of the population has all that was measured
};

/// C = covariance, H the gradients of the measures at the change d, N their reading error:
/// d = C H' (H C H' + N)^-1 (y - m(d) + H d), repeated until d stands still; then
/// C - C H' (H C H' + N)^-1 H C [Tarantola 2005, section 3.2.3].
/// @param measurements each measure at most once; none gives the mean face
[[nodiscard]] FacePosterior condition_face(const FacePrior& prior,
                                           std::span<const FaceMeasurement> measurements);

/// One face drawn from those that the measurements leave; from the whole population when there are
/// none. The published dimensions are brought to what was drawn, past the curvature of distances.
/// @pre the prior outlives the sampler
class FaceSampler {
 public:
  FaceSampler(const FacePrior& prior, const FacePosterior& posterior);
  /// @param seed the same seed, the same face
  [[nodiscard]] std::vector<Landmark> draw(unsigned seed) const;

 private:
  const FacePrior& prior_;
  Eigen::VectorXd change_;
  Eigen::MatrixXd factor_;
};

/// SD of each landmark along each axis, sellion's 0; the right side's are its mirror image's. [mm]
[[nodiscard]] std::vector<Vec3> landmark_sds_mm(const FacePrior& prior,
                                                const FacePosterior& posterior);

/// What one more measurement would leave.
struct NextMeasure {
  Measure measure = Measure::face_width;
  double rms_mm = 0;  ///< of the landmarks once this is measured too
};
/// sqrt(mean over the landmarks of the trace of their covariance). [mm]
[[nodiscard]] double landmark_rms_mm(const FacePrior& prior, const FacePosterior& posterior,
                                     std::span<const std::string> landmarks);
/// What is not measured yet, the most helpful first: the rms with C - C h h' C/(h' C h + N), which
/// does not depend on what the reading will be.
[[nodiscard]] std::vector<NextMeasure> next_measures(const FacePrior& prior,
                                                     const FacePosterior& posterior,
                                                     std::span<const std::string> landmarks);

enum class SealRegion { over_nose, over_nose_and_mouth };
/// The landmarks that rims touch, from `geometry/data/face-measuring.json`.
[[nodiscard]] std::vector<std::string> seal_landmarks(SealRegion region);

}  // namespace rimload
