// A smooth field of one or more values over a plane grid, as a uniform cubic B-spline.
#pragma once

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <vector>

namespace rimload {

namespace bspline {
/// What each of the four coefficients around a point counts, t of the way from the second to the
/// third: polynomials in t, all four at a time.
using Taps = Eigen::Array4d;
inline Taps weights(double t) {
  constexpr double sixth = 1.0 / 6;
  const Taps a(sixth, 4 * sixth, sixth, 0);
  const Taps b(-0.5, 0, 0.5, 0);
  const Taps c(0.5, -1, 0.5, 0);
  const Taps d(-sixth, 0.5, -0.5, sixth);
  return a + t * (b + t * (c + t * d));
}
inline Taps slopes(double t) {
  const Taps a(-0.5, 0, 0.5, 0);
  const Taps b(1, -2, 1, 0);
  const Taps c(-0.5, 1.5, -1.5, 0.5);
  return a + t * (b + t * c);
}
inline Taps curvatures(double t) { return Taps(1, -2, 1, 0) + t * Taps(-1, 3, -3, 1); }
/// Turns values f[k] into coefficients: (c[k-1] + 4 c[k] + c[k+1])/6 = f[k] inside, c = f at both
/// ends (second derivative zero), by elimination. `get(k)` is a reference, k = 0 to n - 1.
template <typename Get>
void interpolate(int n, Get&& get) {
  std::vector<double> pivot(static_cast<std::size_t>(n), 0.0);
  for (int k = 1; k < n - 1; ++k) {
    const auto index = static_cast<std::size_t>(k);
    pivot[index] = 1 / (4 - pivot[index - 1]);
    get(k) = (6 * get(k) - get(k - 1)) * pivot[index];
  }
  for (int k = n - 2; k > 0; --k) get(k) -= pivot[static_cast<std::size_t>(k)] * get(k + 1);
}
/// Adds one linearly extrapolated coefficient at each end, k = -1 and n.
template <typename Get>
void extend(int n, Get&& get) {
  get(-1) = 2 * get(0) - get(1);
  get(n) = 2 * get(n - 1) - get(n - 2);
}
}  // namespace bspline

/// Where a grid lies in its plane (u, v): node (i, j) is at (u0 + i spacing, v0 + j spacing).
struct GridFrame {
  double u0_mm = 0;
  double v0_mm = 0;
  double spacing_mm = 1;
  int n_u = 0;  ///< nodes along u, at least 4
  int n_v = 0;  ///< nodes along v, at least 4

  [[nodiscard]] double u_at(int i) const { return u0_mm + i * spacing_mm; }
  [[nodiscard]] double v_at(int j) const { return v0_mm + j * spacing_mm; }
};

/// Value and derivatives of a field of N values at one point.
template <int N>
struct FieldPoint {
  using Values = Eigen::Array<double, N, 1>;
  Values value, du, dv, duu, duv, dvv;
};

/// Value and slopes of a field of N values at one point.
template <int N>
struct FieldSlopes {
  using Values = Eigen::Array<double, N, 1>;
  Values value, du, dv;
};

/// N interleaved fields on a grid, twice continuously differentiable.
///
/// s(u,v) = sum_ij c_ij B(u - i) B(v - j) with the cubic B-spline B [Unser 1999, section on
/// interpolation]. `interpolating` runs through the node values, with zero second derivative at the
/// border; `approximating` takes them as coefficients: a little smoother, and never outside
/// their range, which keeps depths and moduli positive. Outside the grid the nearest border
/// point is used.
template <int N>
class BicubicGrid {
 public:
  using Values = Eigen::Array<double, N, 1>;
  enum class Kind { interpolating, approximating };

  BicubicGrid() = default;
  /// @param nodes n_v rows of n_u values, u running fastest.
  BicubicGrid(GridFrame frame, std::vector<Values> nodes, Kind kind);

  [[nodiscard]] const GridFrame& frame() const { return frame_; }
  /// Value, first and second derivatives at (u, v) [mm].
  [[nodiscard]] FieldPoint<N> at(double u, double v) const;
  /// Value and first derivatives.
  [[nodiscard]] FieldSlopes<N> first_order_at(double u, double v) const;
  /// Value only.
  [[nodiscard]] Values value_at(double u, double v) const;

 private:
  struct Cell {
    std::size_t first;  ///< index of the lowest of the 4 x 4 coefficients
    double du, dv;      ///< position in the cell, 0 to 1
  };
  [[nodiscard]] Cell cell(double u, double v) const;

  GridFrame frame_;
  double per_mm_ = 1;                 ///< of the spacing
  std::vector<Values> coefficients_;  ///< (n_u + 2) x (n_v + 2)
};

template <int N>
BicubicGrid<N>::BicubicGrid(GridFrame frame, std::vector<Values> nodes, Kind kind)
    : frame_(frame), per_mm_(1 / frame.spacing_mm) {
  const int n_u = frame.n_u;
  const int n_v = frame.n_v;
  const std::size_t row = static_cast<std::size_t>(n_u) + 2;
  coefficients_.assign(row * (static_cast<std::size_t>(n_v) + 2), Values::Zero());
  const auto at = [&](int i, int j) -> Values& {
    return coefficients_[static_cast<std::size_t>(j + 1) * row + static_cast<std::size_t>(i + 1)];
  };
  for (int j = 0; j < n_v; ++j) {
    for (int i = 0; i < n_u; ++i) {
      at(i, j) = nodes[static_cast<std::size_t>(j) * static_cast<std::size_t>(n_u) +
                       static_cast<std::size_t>(i)];
    }
  }
  const auto filter = [&](int n, auto&& get) {
    if (kind == Kind::interpolating) bspline::interpolate(n, get);
    bspline::extend(n, get);
  };
  for (int j = 0; j < n_v; ++j) filter(n_u, [&](int k) -> Values& { return at(k, j); });
  for (int i = -1; i <= n_u; ++i) filter(n_v, [&](int k) -> Values& { return at(i, k); });
}

template <int N>
typename BicubicGrid<N>::Cell BicubicGrid<N>::cell(double u, double v) const {
  const double x = std::clamp((u - frame_.u0_mm) * per_mm_, 0.0, frame_.n_u - 1.0);
  const double y = std::clamp((v - frame_.v0_mm) * per_mm_, 0.0, frame_.n_v - 1.0);
  const int i = std::min(static_cast<int>(x), frame_.n_u - 2);
  const int j = std::min(static_cast<int>(y), frame_.n_v - 2);
  const std::size_t row = static_cast<std::size_t>(frame_.n_u) + 2;
  return {static_cast<std::size_t>(j) * row + static_cast<std::size_t>(i), x - i, y - j};
}

template <int N>
FieldPoint<N> BicubicGrid<N>::at(double u, double v) const {
  static_assert(N == 1, "second derivatives are there for one field only");
  const Cell here = cell(u, v);
  const bspline::Taps wu = bspline::weights(here.du);
  const bspline::Taps su = bspline::slopes(here.du);
  const bspline::Taps wv = bspline::weights(here.dv);
  const bspline::Taps sv = bspline::slopes(here.dv);
  const bspline::Taps cv = bspline::curvatures(here.dv);
  const std::size_t row = static_cast<std::size_t>(frame_.n_u) + 2;
  // Down the columns first, four columns at a time.
  Eigen::Array4d value = Eigen::Array4d::Zero();
  Eigen::Array4d slope = Eigen::Array4d::Zero();
  Eigen::Array4d curve = Eigen::Array4d::Zero();
  for (Eigen::Index j = 0; j < 4; ++j) {
    const Eigen::Array4d c = Eigen::Map<const Eigen::Array4d>(
        coefficients_[here.first + static_cast<std::size_t>(j) * row].data());
    value += wv[j] * c;
    slope += sv[j] * c;
    curve += cv[j] * c;
  }
  const double k = per_mm_;
  FieldPoint<N> out;
  out.value = (wu * value).sum();
  out.du = (su * value).sum() * k;
  out.dv = (wu * slope).sum() * k;
  out.duu = (bspline::curvatures(here.du) * value).sum() * (k * k);
  out.duv = (su * slope).sum() * (k * k);
  out.dvv = (wu * curve).sum() * (k * k);
  return out;
}

template <int N>
FieldSlopes<N> BicubicGrid<N>::first_order_at(double u, double v) const {
  const Cell here = cell(u, v);
  const bspline::Taps wu = bspline::weights(here.du);
  const bspline::Taps su = bspline::slopes(here.du);
  const bspline::Taps wv = bspline::weights(here.dv);
  const bspline::Taps sv = bspline::slopes(here.dv);
  const std::size_t row = static_cast<std::size_t>(frame_.n_u) + 2;
  const double k = per_mm_;
  FieldSlopes<N> out{Values::Zero(), Values::Zero(), Values::Zero()};
  for (Eigen::Index j = 0; j < 4; ++j) {
    const Values* c = &coefficients_[here.first + static_cast<std::size_t>(j) * row];
    const Values value = wu[0] * c[0] + wu[1] * c[1] + wu[2] * c[2] + wu[3] * c[3];
    const Values slope = su[0] * c[0] + su[1] * c[1] + su[2] * c[2] + su[3] * c[3];
    out.value += wv[j] * value;
    out.du += (wv[j] * k) * slope;
    out.dv += (sv[j] * k) * value;
  }
  return out;
}

template <int N>
typename BicubicGrid<N>::Values BicubicGrid<N>::value_at(double u, double v) const {
  const Cell here = cell(u, v);
  const bspline::Taps wu = bspline::weights(here.du);
  const bspline::Taps wv = bspline::weights(here.dv);
  const std::size_t row = static_cast<std::size_t>(frame_.n_u) + 2;
  Values value = Values::Zero();
  for (Eigen::Index j = 0; j < 4; ++j) {
    const Values* c = &coefficients_[here.first + static_cast<std::size_t>(j) * row];
    value += wv[j] * (wu[0] * c[0] + wu[1] * c[1] + wu[2] * c[2] + wu[3] * c[3]);
  }
  return value;
}

}  // namespace rimload
