#include "geometry/scan_landmarks.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/morph.hpp"
#include "geometry/scan_limits.hpp"
#include "geometry/skin_map.hpp"

namespace rimload {

namespace {

using Index = Eigen::Index;

// One reading of the displacements: direction . d(landmark) = value.
struct Reading {
  Index landmark = 0;
  Vec3 direction = Vec3::UnitX();
  double value_mm = 0;
  double sd_mm = 1;
};

std::vector<Reading> of_marked(std::span<const Landmark> start, std::span<const Landmark> marked) {
  std::vector<Reading> out;
  for (const Landmark& mark : marked) {
    const Landmark& from = find_landmark(start, mark.name, mark.side);
    for (int axis = 0; axis < 3; ++axis) {
      const Vec3 direction = Vec3::Unit(axis);
      out.push_back({&from - start.data(), direction,
                     direction.dot(mark.position_face - from.position_face),
                     scan_limits().marking_sd_mm});
    }
  }
  return out;
}

// The nearest skin on the line through a point along the face's normal there.
std::optional<double> skin_along(const ScanTree& scan, const Vec3& from, const Vec3& normal,
                                 double reach_mm) {
  constexpr double facing = 0.5;  // of the two normals' product: skin within 60 degrees
  std::optional<double> nearest;
  for (const LineHit& hit : scan.hits(from, normal, reach_mm)) {
    if (hit.normal.dot(normal) < facing) continue;
    if (!nearest || std::abs(hit.along) < std::abs(*nearest)) nearest = hit.along;
  }
  return nearest;
}

struct Likeliest {
  Eigen::VectorXd move;     // of all landmarks, stacked
  Eigen::VectorXd unlike;   // each reading less what the others predict [mm]
  Eigen::VectorXd doubted;  // the same in standard deviations of that prediction
};

// With A = H K H' + N and a = A^-1 y, a reading lies a_k/(A^-1)_kk from what all others predict,
// with the variance 1/(A^-1)_kk [Rasmussen & Williams 2006, equations 5.10 to 5.12].
Likeliest likeliest(const Eigen::MatrixXd& covariance, std::span<const Reading> readings) {
  const auto m = static_cast<Index>(readings.size());
  if (m == 0) return {Eigen::VectorXd::Zero(covariance.cols()), {}, {}};
  Eigen::MatrixXd rows = Eigen::MatrixXd::Zero(m, covariance.cols());
  Eigen::VectorXd values(m);
  Eigen::VectorXd noise(m);
  for (Index k = 0; k < m; ++k) {
    const Reading& reading = readings[static_cast<std::size_t>(k)];
    rows.block<1, 3>(k, 3 * reading.landmark) = reading.direction.transpose();
    values[k] = reading.value_mm;
    noise[k] = reading.sd_mm * reading.sd_mm;
  }
  const Eigen::MatrixXd gain = covariance * rows.transpose();
  Eigen::MatrixXd system = rows * gain;
  system.diagonal() += noise;
  const Eigen::MatrixXd inverse = system.ldlt().solve(Eigen::MatrixXd::Identity(m, m));
  const Eigen::VectorXd weights = inverse * values;
  return {gain * weights, weights.cwiseQuotient(inverse.diagonal()),
          weights.cwiseQuotient(inverse.diagonal().cwiseSqrt())};
}

// Leaves out, the most doubtful first, what lies so far from where all other readings have it that
// it is no skin. The marked points, which come first, stay.
Likeliest without_outliers(const Eigen::MatrixXd& covariance, std::vector<Reading>& readings,
                           std::size_t n_marked) {
  const double beyond_sds = scan_limits().outlier_sds;
  while (true) {
    Likeliest out = likeliest(covariance, readings);
    std::size_t worst = 0;
    double doubt = beyond_sds;
    for (std::size_t k = n_marked; k < readings.size(); ++k) {
      const auto row = static_cast<Index>(k);
      if (std::abs(out.unlike[row]) < scan_limits().outlier_mm) continue;
      if (std::abs(out.doubted[row]) <= doubt) continue;
      doubt = std::abs(out.doubted[row]);
      worst = k;
    }
    if (doubt <= beyond_sds) return out;
    readings.erase(readings.begin() + static_cast<std::ptrdiff_t>(worst));
  }
}

std::vector<Landmark> moved(std::span<const Landmark> start, const Eigen::VectorXd& by) {
  std::vector<Landmark> out(start.begin(), start.end());
  for (std::size_t k = 0; k < out.size(); ++k) {
    out[k].position_face += by.segment<3>(3 * static_cast<Index>(k));
  }
  return out;
}

}  // namespace

LandmarksOnScan landmarks_on_scan(const ScanTree& scan, std::span<const Landmark> start,
                                  std::span<const Landmark> marked) {
  constexpr int most_iterations = 30;
  constexpr double at_rest_mm = 0.05;  // far below the scan's noise
  constexpr double shrink = 0.7;
  const ScanLimits& limits = scan_limits();
  const SkinMap::Options coarse{.spacing_mm = 2};  // for normals only
  Eigen::MatrixXd covariance = displacement_covariance(start, usual_morph_prior());
  covariance.diagonal().array() += limits.local_sd_mm * limits.local_sd_mm;
  const std::vector<Reading> known = of_marked(start, marked);
  Eigen::VectorXd move = likeliest(covariance, known).move;
  LandmarksOnScan out;
  double reach = limits.first_reach_mm;
  while (out.iterations < most_iterations && !out.settled) {
    ++out.iterations;
    out.landmarks = moved(start, move);
    const SkinMap face(out.landmarks, coarse);
    std::vector<Reading> readings = known;
    for (std::size_t k = 0; k < start.size(); ++k) {
      const Vec3& here = out.landmarks[k].position_face;
      const Vec3 normal = face.normal(SkinMap::chart(here));
      const auto skin = skin_along(scan, here, normal, reach);
      if (!skin) continue;
      readings.push_back({static_cast<Index>(k), normal,
                          *skin + normal.dot(here - start[k].position_face), limits.scan_sd_mm});
    }
    const Eigen::VectorXd next = without_outliers(covariance, readings, known.size()).move;
    out.met.assign(start.size(), false);
    for (std::size_t k = known.size(); k < readings.size(); ++k) {
      out.met[static_cast<std::size_t>(readings[k].landmark)] = true;
    }
    out.settled =
        reach <= limits.outlier_mm && (next - move).lpNorm<Eigen::Infinity>() < at_rest_mm;
    reach = std::max(limits.outlier_mm, shrink * reach);
    move = next;
  }
  out.landmarks = moved(start, move);
  return out;
}

}  // namespace rimload
