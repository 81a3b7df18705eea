// Moves the landmarks of a face so that it has given dimensions, as smoothly as faces vary.
#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

#include "geometry/landmark.hpp"
#include "geometry/measurement.hpp"

namespace rimload {

/// How faces vary about a given one: a Gaussian process of landmark displacements.
///
/// cov(d_a(x), d_b(x')) = scale_sd^2 C_ab x_a x'_b
///                      + delta_ab sum_k sd_k^2 exp(-|x - x'|^2 / (2 length_k^2)),
/// C_aa = 1, C_ab = scale_correlation: growth along the three axes, partly in common, and bumps
/// that neighbours share [Rasmussen & Williams 2006, section 2.7 and equation 4.9].
struct MorphPrior {
  struct Bump {
    double sd_mm = 2;
    double length_mm = 20;
  };
  double scale_sd = 0;           ///< of the growth along one axis, relative
  double scale_correlation = 0;  ///< between the growth along two axes, -0.5 to 1
  std::vector<Bump> bumps;
};

/// The prior of `geometry/data/morph-prior.json`, sized on published standard deviations.
[[nodiscard]] MorphPrior usual_morph_prior();

/// Covariance of the displacements of all landmarks, 3 n x 3 n, order (x0, y0, z0, x1, ...). [mm2]
[[nodiscard]] Eigen::MatrixXd displacement_covariance(std::span<const Landmark> landmarks,
                                                      const MorphPrior& prior);

struct MorphOptions {
  MorphPrior prior = usual_morph_prior();
  double measure_sd_mm = 1e-5;      ///< S: how exactly the targets are met, above 0
  double step_tolerance_mm = 1e-9;  ///< converged when no landmark moves farther than this
  int max_iterations = 50;
};

enum class MorphTermination {
  converged,
  iteration_limit  ///< the targets contradict each other or no face of the prior has them
};

struct MorphSummary {
  MorphTermination termination = MorphTermination::iteration_limit;
  int iterations = 0;
  double worst_mismatch_mm = 0;  ///< largest |measure - target| at the end
  std::vector<Landmark> landmarks;
};

/// The most likely face with the target dimensions: D = K J' (J K J' + S)^-1 (m_target - m(D) +
/// J D), J at the last D, repeated until D stands still [Tarantola 2005, section 3.2.3].
///
/// Sellion is put back to the origin. A face symmetric to the last bit stays so. Tissue depths
/// are kept.
/// @pre landmarks distinct; targets name each measure at most once
/// @throws InputError when a landmark that a target needs is missing
[[nodiscard]] MorphSummary morph(std::span<const Landmark> landmarks,
                                 std::span<const MeasureTarget> targets,
                                 const MorphOptions& options = {});

}  // namespace rimload
