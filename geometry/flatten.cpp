#include "geometry/flatten.hpp"

#include <Eigen/Dense>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "geometry/conformal_map.hpp"
#include "geometry/polygon.hpp"

namespace rimload {

namespace {

using Hessian = Eigen::SparseMatrix<double>;
using Vec6 = Eigen::Matrix<double, 6, 1>;
using Mat6 = Eigen::Matrix<double, 6, 6>;

// A triangle of the patch in its own plane: F = [p1 - p0, p2 - p0] inverse_rest.
struct Rest {
  Mat2 inverse;
  double area;
  Eigen::Matrix<double, 4, 6> by_points;  // of F, column by column
};

Rest rest_of(const TriangleMesh& patch, const std::array<std::uint32_t, 3>& t) {
  const Vec3 ab = patch.vertices[t[1]] - patch.vertices[t[0]];
  const Vec3 ac = patch.vertices[t[2]] - patch.vertices[t[0]];
  const Vec3 x = ab.normalized();
  const Vec3 y = ab.cross(ac).cross(ab).normalized();
  Mat2 rest;
  rest << ab.norm(), x.dot(ac), 0, y.dot(ac);
  Rest out{rest.inverse(), 0.5 * rest.determinant(), {}};
  const Eigen::Matrix<double, 3, 2> weights =
      (Eigen::Matrix<double, 3, 2>() << -1, -1, 1, 0, 0, 1).finished() * out.inverse;
  out.by_points.setZero();
  for (int column = 0; column < 2; ++column) {
    for (int corner = 0; corner < 3; ++corner) {
      out.by_points(2 * column, 2 * corner) = weights(corner, column);
      out.by_points(2 * column + 1, 2 * corner + 1) = weights(corner, column);
    }
  }
  return out;
}

Mat2 gradient_of_map(const Rest& rest, const std::array<std::uint32_t, 3>& t,
                     const std::vector<Vec2>& points) {
  Mat2 edges;
  edges << points[t[1]] - points[t[0]], points[t[2]] - points[t[0]];
  return edges * rest.inverse;
}

// F = U diag(s) V' with rotations U and V'; the second value is negative where F turns over.
struct Turned {
  Mat2 u, vt;
  Vec2 s;
};

Turned turned(const Mat2& f) {
  const double e = 0.5 * (f(0, 0) + f(1, 1));
  const double g = 0.5 * (f(0, 0) - f(1, 1));
  const double h = 0.5 * (f(1, 0) + f(0, 1));
  const double k = 0.5 * (f(1, 0) - f(0, 1));
  const double q = std::hypot(e, k);
  const double r = std::hypot(g, h);
  const double first = std::atan2(h, g);
  const double second = std::atan2(k, e);
  return {Eigen::Rotation2Dd(0.5 * (second + first)).toRotationMatrix(),
          Eigen::Rotation2Dd(0.5 * (second - first)).toRotationMatrix(),
          {q + r, q - r}};
}

// Above the 4 of an isometry, without cancellation.
double excess(const Vec2& s) {
  if (s[1] <= 0) return std::numeric_limits<double>::infinity();
  const Vec2 gap = s - s.cwiseInverse();
  return gap.squaredNorm();
}

struct Local {
  Vec6 slope;
  Mat6 curvature;
};

// Derivatives of one triangle's energy by its points; negative curvature is left out.
Local local(const Rest& rest, const Mat2& f) {
  const Turned at = turned(f);
  const Vec2 cube = at.s.cwiseProduct(at.s).cwiseProduct(at.s);
  const Vec2 by_s = 2 * (at.s - cube.cwiseInverse());
  const double product = at.s.prod();
  const double product_cube = product * product * product;
  const double squares = at.s.squaredNorm();
  const std::array<double, 4> value{
      2 + 6 / (cube[0] * at.s[0]), 2 + 6 / (cube[1] * at.s[1]),
      std::max(0.0, 2 - 2 * (squares - product) / product_cube),  // twist
      2 + 2 * (squares + product) / product_cube};                // flip
  std::array<Mat2, 4> mode;
  mode[0] << 1, 0, 0, 0;
  mode[1] << 0, 0, 0, 1;
  mode[2] << 0, -std::sqrt(0.5), std::sqrt(0.5), 0;
  mode[3] << 0, std::sqrt(0.5), std::sqrt(0.5), 0;
  Local out;
  out.curvature.setZero();
  for (std::size_t k = 0; k < 4; ++k) {
    const Mat2 direction = at.u * mode[k] * at.vt;
    const Vec6 by_points = rest.by_points.transpose() * direction.reshaped();
    out.curvature += rest.area * value[k] * by_points * by_points.transpose();
  }
  const Mat2 stress = at.u * by_s.asDiagonal() * at.vt;
  out.slope = rest.area * (rest.by_points.transpose() * stress.reshaped());
  return out;
}

// The energy of a patch laid flat and how it changes; the matrix keeps its pattern.
class Energy {
 public:
  explicit Energy(const TriangleMesh& patch)
      : triangles_(patch.triangles), n_(2 * static_cast<int>(patch.vertices.size())) {
    std::vector<Eigen::Triplet<double>> entries;
    for (const auto& t : triangles_) {
      rests_.push_back(rest_of(patch, t));
      area_ += rests_.back().area;
      for (const int row : unknowns(t)) {
        for (const int column : unknowns(t)) {
          if (row >= column) entries.emplace_back(row, column, 0.0);
        }
      }
    }
    curvature_.resize(n_, n_);
    curvature_.setFromTriplets(entries.begin(), entries.end());
    solver_.analyzePattern(curvature_);
  }

  [[nodiscard]] double value(const std::vector<Vec2>& points) const {
    double sum = 0;
    for (std::size_t k = 0; k < triangles_.size(); ++k) {
      sum += rests_[k].area * excess(turned(map_of(k, points)).s);
    }
    return sum / area_;
  }

  struct Step {
    Eigen::VectorXd move;
    double decrement;  // by which the mean energy would fall at first, per unit of the step
  };
  [[nodiscard]] Step newton_step(const std::vector<Vec2>& points) {
    Eigen::VectorXd slope = Eigen::VectorXd::Zero(n_);
    Eigen::Map<Eigen::VectorXd>(curvature_.valuePtr(), curvature_.nonZeros()).setZero();
    for (std::size_t k = 0; k < triangles_.size(); ++k) {
      const Local at = local(rests_[k], map_of(k, points));
      const std::array<int, 6> unknown = unknowns(triangles_[k]);
      for (std::size_t column = 0; column < 6; ++column) {
        slope[unknown[column]] += at.slope[static_cast<int>(column)];
        for (std::size_t row = 0; row < 6; ++row) {
          if (unknown[row] < unknown[column]) continue;
          curvature_.coeffRef(unknown[row], unknown[column]) +=
              at.curvature(static_cast<int>(row), static_cast<int>(column));
        }
      }
    }
    // Shifting and turning the whole costs nothing, so the matrix alone is singular.
    constexpr double hold = 1e-9;
    solver_.setShift(hold * curvature_.diagonal().mean());
    solver_.factorize(curvature_);
    Step out{solver_.solve(-slope), 0};
    out.decrement = -slope.dot(out.move) / area_;
    return out;
  }

  // The longest step, at most 1, before any triangle folds.
  [[nodiscard]] double room(const std::vector<Vec2>& points, const Eigen::VectorXd& move) const {
    constexpr double share = 0.9;
    double most = std::numeric_limits<double>::infinity();
    for (const auto& t : triangles_) {
      const auto edge = [&](std::size_t k) { return Vec2(points[t[k]] - points[t[0]]); };
      const auto slope = [&](std::size_t k) {
        return Vec2(move.segment<2>(2 * t[k]) - move.segment<2>(2 * t[0]));
      };
      most = std::min(most, first_root(edge(1), edge(2), slope(1), slope(2)));
    }
    return std::min(1.0, share * most);
  }

  [[nodiscard]] FlatPatch patch_at(std::vector<Vec2> points) const {
    FlatPatch out;
    for (std::size_t k = 0; k < triangles_.size(); ++k) {
      out.singular_values.push_back(turned(map_of(k, points)).s);
      out.areas.push_back(rests_[k].area);
    }
    out.points = std::move(points);
    return out;
  }

 private:
  static std::array<int, 6> unknowns(const std::array<std::uint32_t, 3>& t) {
    const auto first = [&](std::size_t k) { return 2 * static_cast<int>(t[k]); };
    return {first(0), first(0) + 1, first(1), first(1) + 1, first(2), first(2) + 1};
  }
  [[nodiscard]] Mat2 map_of(std::size_t k, const std::vector<Vec2>& points) const {
    return gradient_of_map(rests_[k], triangles_[k], points);
  }
  // The least positive t at which (a + t c) x (b + t d) = 0.
  static double first_root(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
    const double constant = cross(a, b);
    const double linear = cross(a, d) + cross(c, b);
    const double square = cross(c, d);
    const double inside = linear * linear - 4 * square * constant;
    if (inside < 0) return std::numeric_limits<double>::infinity();
    // Either form of the roots that does not cancel.
    const double sum = -0.5 * (linear + std::copysign(std::sqrt(inside), linear));
    double least = std::numeric_limits<double>::infinity();
    for (const double root : {sum / square, constant / sum}) {
      if (root > 0 && root < least) least = root;
    }
    return least;
  }

  std::vector<std::array<std::uint32_t, 3>> triangles_;
  std::vector<Rest> rests_;
  double area_ = 0;
  int n_;
  Hessian curvature_;
  Eigen::SimplicialLDLT<Hessian, Eigen::Lower> solver_;
};

std::vector<Vec2> moved(const std::vector<Vec2>& points, const Eigen::VectorXd& move, double by) {
  std::vector<Vec2> out = points;
  for (std::size_t k = 0; k < out.size(); ++k) {
    out[k] += by * move.segment<2>(2 * static_cast<Eigen::Index>(k));
  }
  return out;
}

}  // namespace

FlatPatch flatten(const TriangleMesh& patch, const FlattenOptions& options) {
  Energy energy(patch);
  std::vector<Vec2> points = conformal_map(patch);
  double value = energy.value(points);
  FlattenEnd end = FlattenEnd::most_steps;
  int steps = 0;
  while (steps < options.most_steps) {
    const auto [move, decrement] = energy.newton_step(points);
    constexpr double rounding = 1e-13;
    if (!(decrement > options.decrement + rounding * value)) {
      end = FlattenEnd::converged;
      break;
    }
    constexpr double least_share = 1e-4;  // of the fall that the slope promises [Armijo 1966]
    constexpr double shortest = 1e-8;
    double length = energy.room(points, move);
    std::vector<Vec2> next = moved(points, move, length);
    double next_value = energy.value(next);
    while (!(next_value <= value - least_share * length * decrement) && length > shortest) {
      length *= 0.5;
      next = moved(points, move, length);
      next_value = energy.value(next);
    }
    if (length <= shortest) {
      end = FlattenEnd::stalled;
      break;
    }
    points = std::move(next);
    value = next_value;
    ++steps;
  }
  FlatPatch out = energy.patch_at(std::move(points));
  out.energy = value;
  out.steps = steps;
  out.end = end;
  return out;
}

PatchStretch stretch_of(const FlatPatch& patch, double share_left_out) {
  const std::size_t n = patch.areas.size();
  double area = 0;
  for (const double each : patch.areas) area += each;
  std::vector<std::pair<double, double>> strain(n);  // and area
  const auto kept_within = [&] {
    std::sort(strain.begin(), strain.end(), std::greater<>());
    double passed = 0;
    for (const auto& [value, part] : strain) {
      passed += part;
      if (passed > share_left_out * area) return value;
    }
    return strain.back().first;
  };
  PatchStretch out;
  for (std::size_t k = 0; k < n; ++k) {
    strain[k] = {1 / patch.singular_values[k][1] - 1, patch.areas[k]};
  }
  out.stretch = std::max(0.0, kept_within());
  for (std::size_t k = 0; k < n; ++k) {
    strain[k] = {1 - 1 / patch.singular_values[k][0], patch.areas[k]};
  }
  out.shortening = std::max(0.0, kept_within());
  return out;
}

}  // namespace rimload
