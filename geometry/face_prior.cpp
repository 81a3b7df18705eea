#include "geometry/face_prior.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "geometry/morph.hpp"
#include "geometry_data.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

using Index = Eigen::Index;

const nlohmann::json& measuring() {
  static const auto table = nlohmann::json::parse(data::face_measuring_json());
  return table;
}

// One row a dimension: its gradient by the half's coordinates.
Eigen::MatrixXd gradients(const FacePrior& prior, std::span<const Landmark> face,
                          std::span<const Measure> measures) {
  Eigen::MatrixXd out(static_cast<Index>(measures.size()), prior.half.n());
  for (Index k = 0; k < out.rows(); ++k) {
    out.row(k) =
        prior.half.fold(measure_with_gradient(face, measures[static_cast<std::size_t>(k)]).gradient)
            .transpose();
  }
  return out;
}

std::vector<Measure> measures_of(const FacePopulation& population) {
  std::vector<Measure> out;
  for (const PopulationDimension& each : population.dimensions) out.push_back(each.measure);
  return out;
}

// A child's face is too far from an adult's for the process alone: first as a whole to its size.
std::vector<Landmark> to_size(std::span<const Landmark> reference,
                              const FacePopulation& population) {
  std::vector<Landmark> out(reference.begin(), reference.end());
  if (!population.children) return out;
  double ratio = 0;
  for (const PopulationDimension& each : population.dimensions) {
    ratio += each.mean_mm / measure(reference, each.measure);
  }
  ratio /= static_cast<double>(population.dimensions.size());
  for (Landmark& landmark : out) landmark.position_face *= ratio;
  return out;
}

MeasureBands bands_about(const FacePrior& prior, std::span<const Landmark> face,
                         const Eigen::MatrixXd& covariance) {
  constexpr double tenth = 1.2815515655446004;  // a normal value lies below -tenth in one of ten
  const Eigen::MatrixXd rows = gradients(prior, face, all_measures);
  MeasureBands out;
  for (std::size_t k = 0; k < out.size(); ++k) {
    const Eigen::VectorXd row = rows.row(static_cast<Index>(k)).transpose();
    const double value = measure(face, all_measures[k]);
    const double sd = std::sqrt(std::max(0.0, row.dot(covariance * row)));
    out[k] = {all_measures[k], value, sd, value - tenth * sd, value + tenth * sd};
  }
  return out;
}

}  // namespace

std::string_view name_of(LengthUnit unit) { return unit == LengthUnit::mm ? "mm" : "cm"; }

double measuring_sd_mm() { return measuring().at("measuring_sd_mm").at("value"); }

FacePrior make_face_prior(std::span<const Landmark> reference, FacePopulation population) {
  const std::vector<Landmark> start = to_size(reference, population);
  std::vector<MeasureTarget> targets;
  for (const PopulationDimension& each : population.dimensions) {
    targets.push_back({each.measure, each.mean_mm, each.source});
  }
  MorphSummary mean = morph(start, targets);
  if (mean.termination != MorphTermination::converged) {
    throw InternalError("no face has the published means of " + population.words);
  }
  HalfFace half(mean.landmarks);
  FacePrior out{std::move(population), std::move(mean.landmarks), std::move(half), {}, {}};
  Eigen::MatrixXd& k = out.covariance;
  k = out.half.fold_covariance(displacement_covariance(out.mean, usual_morph_prior()));
  const Eigen::MatrixXd rows = gradients(out, out.mean, measures_of(out.population));
  const Eigen::MatrixXd onto = k * rows.transpose();
  const Eigen::MatrixXd own = rows * onto;
  out.gain = own.ldlt().solve(onto.transpose()).transpose();
  k += out.gain * (out.population.covariance - own) * out.gain.transpose();
  k = (0.5 * (k + k.transpose())).eval();
  return out;
}

MeasureBands bands_of(const FacePrior& prior) {
  return bands_about(prior, prior.mean, prior.covariance);
}

FacePosterior condition_face(const FacePrior& prior,
                             std::span<const FaceMeasurement> measurements) {
  constexpr double step_tolerance_mm = 1e-7;
  constexpr int max_iterations = 50;
  const double noise = measuring_sd_mm() * measuring_sd_mm();
  FacePosterior out;
  out.change = Eigen::VectorXd::Zero(prior.half.n());
  out.landmarks = prior.mean;
  out.covariance = prior.covariance;
  for (const FaceMeasurement& each : measurements) out.given.push_back(each.measure);
  out.settled = measurements.empty();
  for (int k = 0; k < max_iterations && !out.settled; ++k) {
    const Eigen::MatrixXd rows = gradients(prior, out.landmarks, out.given);
    Eigen::VectorXd wanted = rows * out.change;
    for (Index i = 0; i < rows.rows(); ++i) {
      const FaceMeasurement& each = measurements[static_cast<std::size_t>(i)];
      wanted[i] += each.value_mm - measure(out.landmarks, each.measure);
    }
    const Eigen::MatrixXd onto = prior.covariance * rows.transpose();
    Eigen::MatrixXd system = rows * onto;
    system.diagonal().array() += noise;
    const auto solver = system.ldlt();
    const Eigen::VectorXd next = onto * solver.solve(wanted);
    const double step = (next - out.change).lpNorm<Eigen::Infinity>();
    out.change = next;
    out.landmarks = prior.half.moved(prior.mean, next);
    out.settled = step < step_tolerance_mm;
    if (out.settled) out.covariance -= onto * solver.solve(onto.transpose());
  }
  out.bands = bands_about(prior, out.landmarks, out.covariance);
  return out;
}

double landmark_rms_mm(const FacePrior& prior, const FacePosterior& posterior,
                       std::span<const std::string> landmarks) {
  double sum = 0;
  int n = 0;
  for (std::size_t k = 0; k < prior.mean.size(); ++k) {
    if (prior.mean[k].side == Side::right ||
        std::find(landmarks.begin(), landmarks.end(), prior.mean[k].name) == landmarks.end()) {
      continue;
    }
    ++n;
    for (const Index at : prior.half.coordinates_of(k)) sum += posterior.covariance(at, at);
  }
  if (n == 0) throw InternalError("no landmark to look at");
  return std::sqrt(std::max(0.0, sum / n));
}

std::vector<Vec3> landmark_sds_mm(const FacePrior& prior, const FacePosterior& posterior) {
  const Eigen::VectorXd sds = posterior.covariance.diagonal().cwiseMax(0).cwiseSqrt();
  std::vector<Landmark> still = prior.mean;
  for (Landmark& landmark : still) landmark.position_face.setZero();
  std::vector<Vec3> out;
  for (const Landmark& each : prior.half.moved(still, sds)) {
    out.push_back(each.position_face.cwiseAbs());
  }
  return out;
}

std::vector<NextMeasure> next_measures(const FacePrior& prior, const FacePosterior& posterior,
                                       std::span<const std::string> landmarks) {
  const double noise = measuring_sd_mm() * measuring_sd_mm();
  std::vector<Measure> open;
  for (const Measure each : all_measures) {
    if (std::find(posterior.given.begin(), posterior.given.end(), each) == posterior.given.end()) {
      open.push_back(each);
    }
  }
  const Eigen::MatrixXd rows = gradients(prior, posterior.landmarks, open);
  std::vector<NextMeasure> out;
  FacePosterior after = posterior;
  for (std::size_t k = 0; k < open.size(); ++k) {
    const Eigen::VectorXd row = rows.row(static_cast<Index>(k)).transpose();
    const Eigen::VectorXd onto = posterior.covariance * row;
    after.covariance = posterior.covariance;
    after.covariance.diagonal() -= onto.cwiseAbs2() / (row.dot(onto) + noise);
    out.push_back({open[k], landmark_rms_mm(prior, after, landmarks)});
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const NextMeasure& a, const NextMeasure& b) { return a.rms_mm < b.rms_mm; });
  return out;
}

std::vector<std::string> seal_landmarks(SealRegion region) {
  return measuring()
      .at("seal_landmarks")
      .at(region == SealRegion::over_nose ? "over_nose" : "over_nose_and_mouth")
      .get<std::vector<std::string>>();
}

}  // namespace rimload
