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
  constexpr double facing = 0.2;  // of the two normals' product: skin seen from its outside
  std::optional<double> nearest;
  for (const LineHit& hit : scan.hits(from, normal, reach_mm)) {
    if (hit.normal.dot(normal) < facing) continue;
    if (!nearest || std::abs(hit.along) < std::abs(*nearest)) nearest = hit.along;
  }
  return nearest;
}

Eigen::VectorXd likeliest(const Eigen::MatrixXd& covariance, std::span<const Reading> readings) {
  const auto m = static_cast<Index>(readings.size());
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
  return gain * system.ldlt().solve(values);
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
  Eigen::VectorXd move = likeliest(covariance, known);
  LandmarksOnScan out;
  double reach = limits.first_reach_mm;
  while (out.iterations < most_iterations && !out.settled) {
    ++out.iterations;
    out.landmarks = moved(start, move);
    out.met.assign(start.size(), false);
    const SkinMap face(out.landmarks, coarse);
    std::vector<Reading> readings = known;
    for (std::size_t k = 0; k < start.size(); ++k) {
      const Vec3& here = out.landmarks[k].position_face;
      const Vec3 normal = face.normal(SkinMap::chart(here));
      const auto skin = skin_along(scan, here, normal, reach);
      if (!skin) continue;
      out.met[k] = true;
      readings.push_back({static_cast<Index>(k), normal,
                          *skin + normal.dot(here - start[k].position_face), limits.scan_sd_mm});
    }
    const Eigen::VectorXd next = likeliest(covariance, readings);
    out.settled =
        reach <= limits.outlier_mm && (next - move).lpNorm<Eigen::Infinity>() < at_rest_mm;
    reach = std::max(limits.outlier_mm, shrink * reach);
    move = next;
  }
  out.landmarks = moved(start, move);
  return out;
}

}  // namespace rimload
