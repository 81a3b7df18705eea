#include "geometry/scan_feature.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace rimload {

namespace {

constexpr double half_width_mm = 6;          // of the fitted surface to each side
constexpr double profile_half_width_mm = 2;  // across the midline
constexpr double search_mm = 10;             // how far above and below skin is looked for
constexpr double least_covered = 0.6;        // of the surface that the scan must have
constexpr double most_shift_mm = 8;
constexpr double least_curvature = 0.02;

struct Surface {
  Vec2 slope = Vec2::Zero();
  Eigen::Matrix2d second = Eigen::Matrix2d::Zero();
  double height = 0;
};

struct Axes {
  Vec3 along, across, normal;
};

std::optional<Surface> fitted(const ScanTree& scan, const Vec3& at, const Axes& axes,
                              double across_mm) {
  constexpr double step_mm = 1;
  constexpr double facing = 0.2;  // steep flanks belong to a feature
  std::vector<Vec3> samples;
  int n_all = 0;
  for (double s = -half_width_mm; s <= half_width_mm; s += step_mm) {
    for (double w = -across_mm; w <= across_mm; w += step_mm) {
      ++n_all;
      std::optional<double> nearest;
      for (const LineHit& hit :
           scan.hits(at + s * axes.along + w * axes.across, axes.normal, search_mm)) {
        if (hit.normal.dot(axes.normal) < facing) continue;
        if (!nearest || std::abs(hit.along) < std::abs(*nearest)) nearest = hit.along;
      }
      if (nearest) samples.emplace_back(s, w, *nearest);
    }
  }
  if (static_cast<double>(samples.size()) < least_covered * n_all) return std::nullopt;
  Eigen::MatrixXd rows(static_cast<Eigen::Index>(samples.size()), 6);
  Eigen::VectorXd heights(rows.rows());
  for (Eigen::Index k = 0; k < rows.rows(); ++k) {
    const Vec3& x = samples[static_cast<std::size_t>(k)];
    rows.row(k) << 1, x[0], x[1], 0.5 * x[0] * x[0], x[0] * x[1], 0.5 * x[1] * x[1];
    heights[k] = x[2];
  }
  const Eigen::VectorXd c = rows.colPivHouseholderQr().solve(heights);
  Surface out;
  out.height = c[0];
  out.slope = {c[1], c[2]};
  out.second << c[3], c[4], c[4], c[5];
  return out;
}

// The step to the extremum, and the least curvature towards it; nothing when curved otherwise.
std::optional<std::pair<Vec2, double>> step_to(const Surface& surface, FeatureKind kind) {
  const double sign = kind == FeatureKind::pit || kind == FeatureKind::notch ? 1 : -1;
  if (kind == FeatureKind::notch || kind == FeatureKind::corner) {
    const double curvature = sign * surface.second(0, 0);
    if (curvature < least_curvature) return std::nullopt;
    return std::pair{Vec2(-surface.slope[0] / surface.second(0, 0), 0), curvature};
  }
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> eigen(sign * surface.second);
  const double curvature = eigen.eigenvalues()[0];
  if (curvature < least_curvature) return std::nullopt;
  const Vec2 step = -surface.second.inverse() * surface.slope;
  return std::pair{step, curvature};
}

}  // namespace

std::optional<FeatureView> feature_of(std::string_view landmark, Side side) {
  struct Entry {
    std::string_view name;
    FeatureKind kind;
    double x, y, z;
  };
  constexpr std::array entries{Entry{"stomion", FeatureKind::notch, 0, -0.15, 1},
                               Entry{"pronasale", FeatureKind::summit, 0, -0.15, 1},
                               Entry{"endocanthion", FeatureKind::pit, 0.25, 0, 1},
                               Entry{"sellion", FeatureKind::notch, 0, 0.15, 1},
                               Entry{"subnasale", FeatureKind::notch, 0, -0.75, 1},
                               Entry{"menton", FeatureKind::corner, 0, -1, 1}};
  const auto* found = std::find_if(entries.begin(), entries.end(),
                                   [&](const Entry& each) { return each.name == landmark; });
  if (found == entries.end()) return std::nullopt;
  const double x = side == Side::right ? -found->x : found->x;
  return FeatureView{found->kind, Vec3(x, found->y, found->z).normalized()};
}

std::optional<ScanFeature> find_feature(const ScanTree& scan, const Vec3& near,
                                        const FeatureView& view) {
  constexpr int most_steps = 20;
  constexpr double longest_step_mm = 2;
  constexpr double at_rest_mm = 0.05;
  const bool profile = view.kind == FeatureKind::notch || view.kind == FeatureKind::corner;
  const Vec3& normal = view.from;
  const Vec3 across = Vec3::UnitY().cross(normal).normalized();
  const Axes axes{normal.cross(across), across, normal};
  Vec3 at = near;
  for (int k = 0; k < most_steps; ++k) {
    const auto surface = fitted(scan, at, axes, profile ? profile_half_width_mm : half_width_mm);
    if (!surface) return std::nullopt;
    const auto step = step_to(*surface, view.kind);
    if (!step) return std::nullopt;
    const double length = step->first.norm();
    const Vec2 taken =
        length > longest_step_mm ? Vec2(step->first * (longest_step_mm / length)) : step->first;
    at += surface->height * normal + taken[0] * axes.along + taken[1] * axes.across;
    const Vec3 moved = at - near;
    const double shift = (moved - moved.dot(normal) * normal).norm();
    if (shift > most_shift_mm) return std::nullopt;
    if (length < at_rest_mm) return ScanFeature{at, step->second, shift};
  }
  return std::nullopt;
}

}  // namespace rimload
