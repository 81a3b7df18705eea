#include "skin/section_contact.hpp"

#include <Eigen/Dense>
#include <cassert>
#include <cmath>

namespace rimload {

namespace {

constexpr int most_rounds = 60;

// The sides a lip can touch, all that its law needs.
struct Facets {
  std::vector<int> column;
  Eigen::MatrixXd moved;       // displacements of all nodes by unit pressure on each
  Eigen::MatrixXd compliance;  // A [mm3/N]
  Eigen::VectorXd gap;         // g0 c before any load, from 0 [mm]
  Eigen::VectorXd cosine;      // c
  Eigen::VectorXd length;      // L [mm]
};

Facets facets_under(const SectionBody& body, const SectionLip& lip) {
  const SectionMesh& mesh = body.mesh();
  Facets out;
  std::vector<double> gaps, cosines;
  for (int column = 0; column < mesh.n_columns(); ++column) {
    const EdgeNodes side = mesh.positions_of(mesh.outer_side(column));
    const double half = lip.width_mm / 2 * (1 + 1e-9);
    if (std::abs(0.5 * (side(0, 0) + side(0, 2)) - lip.centre_mm) > half) continue;
    double gap = 0;
    double across = 0;
    for (const EdgePoint& point : edge_points(side, -1, 1)) {
      const double x = point.position.x() - lip.centre_mm;
      gap += (0.5 * x * x / lip.crown_radius_mm - point.position.y()) * point.along.x();
      across += point.along.x();
    }
    const double length = body.side_length(column);
    if (across < 1e-3 * length) continue;  // a flank that the lip slides past
    out.column.push_back(column);
    gaps.push_back(gap / across);
    cosines.push_back(across / length);
  }
  const auto n = static_cast<Eigen::Index>(out.column.size());
  out.gap = Eigen::Map<const Eigen::VectorXd>(gaps.data(), n);
  out.cosine = Eigen::Map<const Eigen::VectorXd>(cosines.data(), n);
  if (n == 0) return out;
  out.gap = (out.gap.array() - out.gap.minCoeff()) * out.cosine.array();
  out.length.resize(n);
  Eigen::MatrixXd normal(2 * mesh.nodes.cols(), n);
  Eigen::MatrixXd loaded(normal.rows(), n);
  for (Eigen::Index k = 0; k < n; ++k) {
    const int column = out.column[static_cast<std::size_t>(k)];
    normal.col(k) = body.force_on_column(column, 0);
    loaded.col(k) = body.force_on_column(column, lip.shear_ratio);
    out.length[k] = body.side_length(column);
  }
  out.moved = body.solve(loaded);
  out.compliance = out.length.cwiseInverse().asDiagonal() * (normal.transpose() * out.moved);
  return out;
}

enum class Touch { open, soft, bottomed };

// Pressures and approach when it is known which sides touch and which have bottomed out.
struct Guess {
  Eigen::VectorXd pressure;
  double approach = 0;
};

Guess solve_guess(const Facets& facets, const SectionLip& lip, const std::vector<Touch>& touch,
                  double line_force) {
  std::vector<Eigen::Index> in;
  for (std::size_t k = 0; k < touch.size(); ++k) {
    if (touch[k] != Touch::open) in.push_back(static_cast<Eigen::Index>(k));
  }
  const auto n = static_cast<Eigen::Index>(in.size());
  Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(n + 1, n + 1);
  Eigen::VectorXd right(n + 1);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Eigen::Index a = in[static_cast<std::size_t>(i)];
    for (Eigen::Index j = 0; j < n; ++j) {
      matrix(i, j) = facets.compliance(a, in[static_cast<std::size_t>(j)]);
    }
    right[i] = -facets.gap[a];
    if (touch[static_cast<std::size_t>(a)] == Touch::bottomed) {
      matrix(i, i) += 1 / lip.bottomed_stiffness_n_mm3;
      right[i] -= lip.travel_mm * (1 - lip.stiffness_n_mm3 / lip.bottomed_stiffness_n_mm3);
    } else if (lip.stiffness_n_mm3 > 0) {
      matrix(i, i) += 1 / lip.stiffness_n_mm3;
    }
    matrix(i, n) = -facets.cosine[a];
    matrix(n, i) = facets.cosine[a] * facets.length[a];
  }
  right[n] = line_force;
  const Eigen::VectorXd found = matrix.partialPivLu().solve(right);
  Guess out{Eigen::VectorXd::Zero(static_cast<Eigen::Index>(touch.size())), found[n]};
  for (Eigen::Index i = 0; i < n; ++i) out.pressure[in[static_cast<std::size_t>(i)]] = found[i];
  return out;
}

Touch touch_of(double pressure, double gap, const SectionLip& lip) {
  if (pressure < 0 || (pressure == 0 && gap >= 0)) return Touch::open;
  const bool bottomed = lip.stiffness_n_mm3 > 0 && pressure > lip.stiffness_n_mm3 * lip.travel_mm;
  return bottomed ? Touch::bottomed : Touch::soft;
}

}  // namespace

LipContact press_lip(const SectionBody& body, const SectionLip& lip, double line_force_n_mm) {
  assert(line_force_n_mm > 0);
  assert(std::isinf(lip.travel_mm) || lip.bottomed_stiffness_n_mm3 >= lip.stiffness_n_mm3);
  LipContact out;
  out.pressure.assign(static_cast<std::size_t>(body.mesh().n_columns()), 0.0);
  const Facets facets = facets_under(body, lip);
  if (facets.column.empty()) return out;
  std::vector<Touch> touch(facets.column.size(), Touch::soft);
  Guess guess;
  while (!out.settled && out.iterations < most_rounds) {
    guess = solve_guess(facets, lip, touch, line_force_n_mm);
    ++out.iterations;
    const Eigen::VectorXd gap =
        facets.gap + facets.compliance * guess.pressure - guess.approach * facets.cosine;
    out.settled = true;
    for (std::size_t k = 0; k < touch.size(); ++k) {
      const auto i = static_cast<Eigen::Index>(k);
      const Touch now = touch_of(guess.pressure[i], gap[i], lip);
      if (now != touch[k]) out.settled = false;
      touch[k] = now;
    }
    // All lifted off at once: begin anew from the side nearest to the lip.
    bool any = false;
    for (const Touch each : touch) any = any || each != Touch::open;
    if (!any) {
      Eigen::Index nearest = 0;
      facets.gap.minCoeff(&nearest);
      touch[static_cast<std::size_t>(nearest)] = Touch::soft;
    }
  }
  out.approach_mm = guess.approach;
  for (std::size_t k = 0; k < touch.size(); ++k) {
    const double pressure = guess.pressure[static_cast<Eigen::Index>(k)];
    out.pressure[static_cast<std::size_t>(facets.column[k])] = pressure;
    if (pressure > 0) out.width_mm += facets.length[static_cast<Eigen::Index>(k)];
  }
  out.displacement = facets.moved * guess.pressure;
  return out;
}

}  // namespace rimload
