#include <Eigen/Cholesky>
#include <cmath>
#include <numbers>
#include <random>

#include "geometry/face_prior.hpp"

namespace rimload {

namespace {

using Index = Eigen::Index;

// The standard library leaves the algorithm of its normal distribution open; this one gives the
// same values everywhere [Box and Muller 1958].
Eigen::VectorXd normal_values(Index n, unsigned seed) {
  std::mt19937_64 engine(seed);
  const auto uniform = [&] { return (static_cast<double>(engine() >> 11U) + 0.5) * 0x1p-53; };
  Eigen::VectorXd out(n);
  for (Index k = 0; k < n; ++k) {
    const double radius = std::sqrt(-2 * std::log(uniform()));
    out[k] = radius * std::cos(2 * std::numbers::pi * uniform());
  }
  return out;
}

}  // namespace

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
