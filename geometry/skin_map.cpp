#include "geometry/skin_map.hpp"

#include <cmath>
#include <string>

#include "geometry/thin_plate_spline.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

struct Patch {
  Vec3 point, by_u, by_v, by_uu, by_uv, by_vv;
};

// X(u, v) = ((r sin t, v, z0 + r cos t)), t = u/R0, and its derivatives.
Patch evaluate(const BicubicGrid<1>& radius, const Vec2& uv) {
  const FieldPoint<1> r = radius.at(uv[0], uv[1]);
  constexpr double k = 1 / SkinMap::chart_radius_mm;
  const double s = std::sin(uv[0] * k);
  const double c = std::cos(uv[0] * k);
  const double value = r.value[0];
  const double u = r.du[0];
  const double v = r.dv[0];
  Patch patch;
  patch.point = {value * s, uv[1], SkinMap::axis_z_mm + value * c};
  patch.by_u = {u * s + value * c * k, 0, u * c - value * s * k};
  patch.by_v = {v * s, 1, v * c};
  const double radial = r.duu[0] - value * k * k;
  patch.by_uu = {radial * s + 2 * u * c * k, 0, radial * c - 2 * u * s * k};
  patch.by_uv = {r.duv[0] * s + v * c * k, 0, r.duv[0] * c - v * s * k};
  patch.by_vv = {r.dvv[0] * s, 0, r.dvv[0] * c};
  return patch;
}

Mat2 metric(const Patch& p) {
  Mat2 g;
  g(0, 0) = p.by_u.squaredNorm();
  g(0, 1) = g(1, 0) = p.by_u.dot(p.by_v);
  g(1, 1) = p.by_v.squaredNorm();
  return g;
}

Mat2 along(const Patch& p, const Vec3& direction) {
  Mat2 l;
  l(0, 0) = p.by_uu.dot(direction);
  l(0, 1) = l(1, 0) = p.by_uv.dot(direction);
  l(1, 1) = p.by_vv.dot(direction);
  return l;
}

}  // namespace

GridFrame SkinMap::usual_frame(double spacing_mm) {
  const int half = static_cast<int>(std::lround(150 / spacing_mm));
  const int up = static_cast<int>(std::lround(74 / spacing_mm));
  const int down = static_cast<int>(std::lround(146 / spacing_mm));
  return {.u0_mm = -half * spacing_mm,
          .v0_mm = -down * spacing_mm,
          .spacing_mm = spacing_mm,
          .n_u = 2 * half + 1,
          .n_v = up + down + 1};
}

SkinMap::SkinMap(std::span<const Landmark> landmarks, Options options) {
  const auto n = static_cast<Eigen::Index>(landmarks.size());
  Eigen::Matrix2Xd points(2, n);
  Eigen::VectorXd values(n);
  for (Eigen::Index k = 0; k < n; ++k) {
    const Landmark& landmark = landmarks[static_cast<std::size_t>(k)];
    const Vec3& x = landmark.position_face;
    values[k] = std::hypot(x.x(), x.z() - axis_z_mm);
    points.col(k) = chart(x);
    if (x.z() - axis_z_mm <= 0 || values[k] < 10) {
      throw InputError("", "/landmarks",
                       "landmark '" + landmark.name + "' is at z = " + std::to_string(x.z()) +
                           " mm, on or behind the axis of the skin map (z = -92 mm)");
    }
  }
  const ThinPlateSpline spline(points, values, options.smoothing_mm2);
  const GridFrame frame = usual_frame(options.spacing_mm);
  std::vector<BicubicGrid<1>::Values> nodes(static_cast<std::size_t>(frame.n_u) *
                                            static_cast<std::size_t>(frame.n_v));
  Eigen::ArrayXd v(frame.n_v);
  for (int j = 0; j < frame.n_v; ++j) v[j] = frame.v_at(j);
  // The left half of a symmetric face is the mirror image of the right one: half the work.
  const bool symmetric = mirror_images(landmarks).has_value();
  const auto node = [&](int i, int j) {
    return static_cast<std::size_t>(j) * static_cast<std::size_t>(frame.n_u) +
           static_cast<std::size_t>(i);
  };
  for (int i = 0; i < (symmetric ? frame.n_u / 2 + 1 : frame.n_u); ++i) {
    const Eigen::ArrayXd line = spline.along_line(frame.u_at(i), v);
    for (int j = 0; j < frame.n_v; ++j) {
      nodes[node(i, j)][0] = line[j];
      if (symmetric) nodes[node(frame.n_u - 1 - i, j)][0] = line[j];
    }
  }
  radius_ = BicubicGrid<1>(frame, std::move(nodes), BicubicGrid<1>::Kind::interpolating);
}

Vec2 SkinMap::chart(const Vec3& point_face) {
  return {chart_radius_mm * std::atan2(point_face.x(), point_face.z() - axis_z_mm), point_face.y()};
}

Vec3 SkinMap::point(const Vec2& uv) const {
  const double r = radius_.value_at(uv[0], uv[1])[0];
  const double angle = uv[0] / chart_radius_mm;
  return {r * std::sin(angle), uv[1], axis_z_mm + r * std::cos(angle)};
}

Vec3 SkinMap::normal(const Vec2& uv) const {
  const Patch patch = evaluate(radius_, uv);
  return patch.by_u.cross(patch.by_v).normalized();
}

double SkinMap::first_order_distance(const Vec3& point_face) const {
  const Vec2 uv = chart(point_face);
  const FieldPoint<1> r = radius_.at(uv[0], uv[1]);
  const double rho = std::hypot(point_face.x(), point_face.z() - axis_z_mm);
  const double by_arc = r.du[0] * chart_radius_mm / rho;
  return (rho - r.value[0]) / std::sqrt(1 + by_arc * by_arc + r.dv[0] * r.dv[0]);
}

SkinPoint SkinMap::closest(const Vec3& point_face, std::optional<Vec2> guess) const {
  constexpr int max_steps = 12;
  constexpr double last_step_mm = 1e-5;  // quadratic convergence: it leaves an error near 1e-11 mm
  constexpr double longest_step_mm = 4;
  SkinPoint out;
  out.uv = guess ? *guess : chart(point_face);
  Patch patch = evaluate(radius_, out.uv);
  for (int step = 0; step < max_steps; ++step) {
    const Vec3 away = point_face - patch.point;
    const Vec2 residual(patch.by_u.dot(away), patch.by_v.dot(away));
    const Mat2 g = metric(patch);
    Mat2 jacobian = g - along(patch, away);
    // Past the centre of curvature Newton's matrix is no longer positive: fall back to the
    // metric, which still descends.
    if (jacobian.determinant() < 0.05 * g.determinant() || jacobian.trace() <= 0) jacobian = g;
    Vec2 move = jacobian.inverse() * residual;
    const double length = move.norm();
    if (length > longest_step_mm) move *= longest_step_mm / length;
    out.uv += move;
    patch = evaluate(radius_, out.uv);
    if (length < last_step_mm) break;
  }
  const Mat2 g = metric(patch);
  out.foot = patch.point;
  out.normal = patch.by_u.cross(patch.by_v).normalized();
  out.distance = out.normal.dot(point_face - out.foot);
  const Mat2 second = along(patch, out.normal);
  const Mat2 moved = g - out.distance * second;
  Mat23 tangents;
  tangents << patch.by_u.transpose(), patch.by_v.transpose();
  if (std::abs(moved.determinant()) > 1e-9 * g.determinant()) {
    out.duv_dx = moved.inverse() * tangents;
    out.hessian = -tangents.transpose() * (g.inverse() * second) * out.duv_dx;
  }
  return out;
}

double front_z(const SkinMap& skin, double x_mm, double y_mm) {
  double z = 0;
  for (int step = 0; step < 60; ++step) {
    const double d = skin.first_order_distance({x_mm, y_mm, z});
    z -= d;
    if (std::abs(d) < 1e-9) break;
  }
  return z;
}

}  // namespace rimload
