#include <Eigen/Cholesky>

#include "geometry/face_prior.hpp"
#include "geometry/normal_values.hpp"

namespace rimload {

using Index = Eigen::Index;

FaceSampler::FaceSampler(const FacePrior& prior, const FacePosterior& posterior)
    : prior_(prior), change_(posterior.change) {
  // Pivoted: neighbours move so alike that the matrix is singular to rounding.
  const auto ldlt = posterior.covariance.ldlt();
  const Eigen::VectorXd root = ldlt.vectorD().cwiseMax(0).cwiseSqrt();
  const Eigen::MatrixXd lower = ldlt.matrixL();
  factor_ = ldlt.transpositionsP().transpose() * (lower * root.asDiagonal()).eval();
}

std::vector<Landmark> FaceSampler::draw(unsigned seed) const {
  const Eigen::VectorXd drawn = factor_ * normal_values(factor_.cols(), seed);
  const std::vector<Landmark> middle = prior_.half.moved(prior_.mean, change_);
  const auto& dimensions = prior_.population.dimensions;
  Eigen::VectorXd wanted(static_cast<Index>(dimensions.size()));
  for (std::size_t k = 0; k < dimensions.size(); ++k) {
    const Measured at = measure_with_gradient(middle, dimensions[k].measure);
    wanted[static_cast<Index>(k)] = at.value_mm + prior_.half.fold(at.gradient).dot(drawn);
  }
  Eigen::VectorXd change = change_ + drawn;
  constexpr int corrections = 3;  // each leaves about a tenth of the mismatch
  for (int k = 0; k < corrections; ++k) {
    const std::vector<Landmark> face = prior_.half.moved(prior_.mean, change);
    Eigen::VectorXd lacking = wanted;
    for (std::size_t i = 0; i < dimensions.size(); ++i) {
      lacking[static_cast<Index>(i)] -= measure(face, dimensions[i].measure);
    }
    change += prior_.gain * lacking;
  }
  return prior_.half.moved(prior_.mean, change);
}

}  // namespace rimload
