#include "geometry/scan_radius.hpp"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/scan_limits.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

using Sparse = Eigen::SparseMatrix<double>;

double radius_of(const Vec3& x) { return std::hypot(x.x(), x.z() - SkinMap::axis_z_mm); }

bool holds(const MeshRegion& region, double u, double v) {
  if (v < region.rows.front().v_mm || v > region.rows.back().v_mm) return false;
  const RegionRow row = region.at(v);
  return u >= row.u_min_mm && u <= row.u_max_mm;
}

struct Met {
  ScanNode node = ScanNode::hole;
  Vec3 skin = Vec3::Zero();
};

Met meet(const ScanTree& scan, const SkinMap& base, const Vec2& uv) {
  constexpr double facing = 0.5;  // of the two normals' product: skin within 60 degrees
  constexpr double steepest = 4;  // millimetres of radius to one of height, on a nose's flank
  const double outlier = scan_limits().outlier_mm;
  const Vec3 at = base.point(uv);
  const Vec3 normal = base.normal(uv);
  const Vec3 outward = Vec3(at.x(), 0, at.z() - SkinMap::axis_z_mm).normalized();
  Met out;
  double nearest = 0;
  for (const LineHit& hit : scan.hits(at, outward, steepest * outlier)) {
    if (hit.normal.dot(normal) < facing) continue;
    const Vec3 skin = at + hit.along * outward;
    const double distance = std::abs(base.first_order_distance(skin));
    if (out.node != ScanNode::hole && distance >= nearest) continue;
    nearest = distance;
    out = {distance < outlier ? ScanNode::met : ScanNode::rejected, skin};
  }
  return out;
}

// The five-point Laplacian; at the border of the grid over the neighbours that are there.
Sparse laplacian(const GridFrame& frame) {
  const int n = frame.n_u * frame.n_v;
  const double weight = 1 / (frame.spacing_mm * frame.spacing_mm);
  std::vector<Eigen::Triplet<double>> entries;
  entries.reserve(5 * static_cast<std::size_t>(n));
  const auto join = [&](int a, int b) {
    entries.emplace_back(a, b, weight);
    entries.emplace_back(b, a, weight);
    entries.emplace_back(a, a, -weight);
    entries.emplace_back(b, b, -weight);
  };
  for (int j = 0; j < frame.n_v; ++j) {
    for (int i = 0; i < frame.n_u; ++i) {
      const int k = j * frame.n_u + i;
      if (i + 1 < frame.n_u) join(k, k + 1);
      if (j + 1 < frame.n_v) join(k, k + frame.n_u);
    }
  }
  Sparse out(n, n);
  out.setFromTriplets(entries.begin(), entries.end());
  return out;
}

Eigen::VectorXd smoothed(const GridFrame& frame, const Eigen::VectorXd& excess,
                         const Eigen::VectorXd& weight) {
  const ScanLimits& limits = scan_limits();
  const double stiff = std::pow(limits.smoothing_length_mm, 4);
  const double tight = stiff / std::pow(limits.slope_length_mm, 2);
  const double fade = tight / std::pow(limits.fading_length_mm, 2);
  const Sparse d = laplacian(frame);
  Sparse system = stiff * Sparse(d.transpose() * d) - tight * d;
  system.diagonal().array() += weight.array() + fade;
  const Eigen::SimplicialLDLT<Sparse> factor(system);
  if (factor.info() != Eigen::Success) throw InternalError("a scan's radius can't be smoothed");
  return factor.solve(weight.cwiseProduct(excess));
}

// What is no skin has edges that rise from the skin: they go with it.
std::vector<ScanNode> without_edges(const GridFrame& frame, const std::vector<ScanNode>& nodes) {
  const double reach_mm = scan_limits().edge_mm;
  const int reach = static_cast<int>(reach_mm / frame.spacing_mm);
  std::vector<ScanNode> out = nodes;
  const auto at = [&](int i, int j) { return static_cast<std::size_t>(j * frame.n_u + i); };
  for (int j = 0; j < frame.n_v; ++j) {
    for (int i = 0; i < frame.n_u; ++i) {
      if (nodes[at(i, j)] != ScanNode::rejected) continue;
      for (int b = std::max(0, j - reach); b <= std::min(frame.n_v - 1, j + reach); ++b) {
        for (int a = std::max(0, i - reach); a <= std::min(frame.n_u - 1, i + reach); ++a) {
          if (out[at(a, b)] == ScanNode::met) out[at(a, b)] = ScanNode::rejected;
        }
      }
    }
  }
  return out;
}

}  // namespace

ScanRadius resample(const ScanTree& scan, const SkinMap& base, const MeshRegion& region) {
  const GridFrame frame = base.frame();
  const auto n = static_cast<std::size_t>(frame.n_u) * static_cast<std::size_t>(frame.n_v);
  ScanRadius out;
  out.nodes.assign(n, ScanNode::outside);
  out.skin.assign(n, Vec3::Zero());
  std::vector<BicubicGrid<1>::Values> radius(n);
  std::size_t k = 0;
  for (int j = 0; j < frame.n_v; ++j) {
    for (int i = 0; i < frame.n_u; ++i, ++k) {
      const Vec2 uv(frame.u_at(i), frame.v_at(j));
      radius[k][0] = radius_of(base.point(uv));
      if (!holds(region, uv[0], uv[1])) continue;
      const Met met = meet(scan, base, uv);
      out.nodes[k] = met.node;
      out.skin[k] = met.skin;
    }
  }
  out.nodes = without_edges(frame, out.nodes);
  Eigen::VectorXd excess = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(n));
  Eigen::VectorXd weight = excess;
  for (k = 0; k < n; ++k) {
    if (out.nodes[k] != ScanNode::met) continue;
    weight[static_cast<Eigen::Index>(k)] = 1;
    excess[static_cast<Eigen::Index>(k)] = radius_of(out.skin[k]) - radius[k][0];
  }
  const Eigen::VectorXd over = smoothed(frame, excess, weight);
  for (k = 0; k < n; ++k) radius[k][0] += over[static_cast<Eigen::Index>(k)];
  out.radius = BicubicGrid<1>(frame, std::move(radius), BicubicGrid<1>::Kind::interpolating);
  return out;
}

}  // namespace rimload
