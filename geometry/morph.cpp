#include "geometry/morph.hpp"

#include <Eigen/Cholesky>
#include <cmath>
#include <nlohmann/json.hpp>

#include "geometry_data.hpp"

namespace rimload {

namespace {

using Index = Eigen::Index;

// Half the sum of a displacement field and its mirror image: takes out rounding alone.
Eigen::VectorXd symmetrised(const Eigen::VectorXd& move, const std::vector<std::size_t>& images) {
  Eigen::VectorXd result(move.size());
  for (std::size_t k = 0; k < images.size(); ++k) {
    const Vec3 own = move.segment<3>(3 * static_cast<Index>(k));
    const Vec3 other = move.segment<3>(3 * static_cast<Index>(images[k]));
    result.segment<3>(3 * static_cast<Index>(k)) = 0.5 * (own + other.cwiseProduct(Vec3(-1, 1, 1)));
  }
  return result;
}

std::vector<Landmark> moved(std::span<const Landmark> landmarks, const Eigen::VectorXd& move) {
  std::vector<Landmark> result(landmarks.begin(), landmarks.end());
  for (std::size_t k = 0; k < result.size(); ++k) {
    result[k].position_face += move.segment<3>(3 * static_cast<Index>(k));
  }
  return result;
}

}  // namespace

MorphPrior usual_morph_prior() {
  const auto json = nlohmann::json::parse(data::morph_prior_json());
  MorphPrior prior;
  prior.scale_sd = json.at("scale_sd").at("value").get<double>();
  prior.scale_correlation = json.at("scale_correlation").at("value").get<double>();
  for (const auto& bump : json.at("bumps").at("value")) {
    prior.bumps.push_back({bump.at("sd_mm").get<double>(), bump.at("length_mm").get<double>()});
  }
  return prior;
}

Eigen::MatrixXd displacement_covariance(std::span<const Landmark> landmarks,
                                        const MorphPrior& prior) {
  const auto n = static_cast<Index>(landmarks.size());
  Mat3 growth = Mat3::Constant(prior.scale_correlation);
  growth.diagonal().setOnes();
  growth *= prior.scale_sd * prior.scale_sd;
  Eigen::MatrixXd covariance(3 * n, 3 * n);
  for (Index i = 0; i < n; ++i) {
    const Vec3& a = landmarks[static_cast<std::size_t>(i)].position_face;
    for (Index j = 0; j < n; ++j) {
      const Vec3& b = landmarks[static_cast<std::size_t>(j)].position_face;
      double shared = 0;
      for (const MorphPrior::Bump& bump : prior.bumps) {
        const double distance = (a - b).norm() / bump.length_mm;
        shared += bump.sd_mm * bump.sd_mm * std::exp(-0.5 * distance * distance);
      }
      covariance.block<3, 3>(3 * i, 3 * j) =
          growth.cwiseProduct(a * b.transpose()) + shared * Mat3::Identity();
    }
  }
  return covariance;
}

MorphSummary morph(std::span<const Landmark> landmarks, std::span<const MeasureTarget> targets,
                   const MorphOptions& options) {
  const auto n = static_cast<Index>(landmarks.size());
  const auto n_targets = static_cast<Index>(targets.size());
  const auto images = mirror_images(landmarks);
  const Eigen::MatrixXd covariance = displacement_covariance(landmarks, options.prior);
  const double noise = options.measure_sd_mm * options.measure_sd_mm;
  Eigen::VectorXd move = Eigen::VectorXd::Zero(3 * n);
  MorphSummary summary;
  while (summary.iterations < options.max_iterations &&
         summary.termination != MorphTermination::converged) {
    ++summary.iterations;
    const std::vector<Landmark> now = moved(landmarks, move);
    Eigen::MatrixXd jacobian(n_targets, 3 * n);
    Eigen::VectorXd wanted(n_targets);
    for (Index k = 0; k < n_targets; ++k) {
      const MeasureTarget& target = targets[static_cast<std::size_t>(k)];
      const Measured measured = measure_with_gradient(now, target.measure);
      jacobian.row(k) = measured.gradient.transpose();
      wanted[k] = target.target_mm - measured.value_mm + measured.gradient.dot(move);
    }
    const Eigen::MatrixXd gain = covariance * jacobian.transpose();
    Eigen::MatrixXd system = jacobian * gain;
    system.diagonal().array() += noise;
    Eigen::VectorXd next = gain * system.ldlt().solve(wanted);
    if (images) next = symmetrised(next, *images);
    const double step = n_targets > 0 ? (next - move).lpNorm<Eigen::Infinity>() : 0;
    move = next;
    if (step < options.step_tolerance_mm) summary.termination = MorphTermination::converged;
  }
  summary.landmarks = moved(landmarks, move);
  const Vec3 origin = find_landmark(summary.landmarks, "sellion", Side::midline).position_face;
  for (Landmark& landmark : summary.landmarks) landmark.position_face -= origin;
  for (const MeasureTarget& target : targets) {
    summary.worst_mismatch_mm =
        std::max(summary.worst_mismatch_mm,
                 std::abs(measure(summary.landmarks, target.measure) - target.target_mm));
  }
  return summary;
}

}  // namespace rimload
