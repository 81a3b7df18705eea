#include "geometry/skin_map.hpp"

#include <cmath>
#include <string>

#include "geometry/thin_plate_spline.hpp"
#include "units/error.hpp"

namespace rimload {

// X(u, v) = ((r sin t, v, z0 + r cos t)), t = u/R0, and its derivatives.
struct SkinMap::Patch {
  Vec3 point, by_u, by_v, by_uu, by_uv, by_vv;

  [[nodiscard]] Mat2 metric() const {
    Mat2 g;
    g(0, 0) = by_u.squaredNorm();
    g(0, 1) = g(1, 0) = by_u.dot(by_v);
    g(1, 1) = by_v.squaredNorm();
    return g;
  }
  [[nodiscard]] Mat2 second_along(const Vec3& direction) const {
    Mat2 l;
    l(0, 0) = by_uu.dot(direction);
    l(0, 1) = l(1, 0) = by_uv.dot(direction);
    l(1, 1) = by_vv.dot(direction);
    return l;
  }
  // The patch a little way off, by Taylor's series.
  void shift(const Vec2& move) {
    const Vec3 u = by_uu * move[0] + by_uv * move[1];
    const Vec3 v = by_uv * move[0] + by_vv * move[1];
    point += (by_u + 0.5 * u) * move[0] + (by_v + 0.5 * v) * move[1];
    by_u += u;
    by_v += v;
  }
};

SkinMap::Patch SkinMap::patch(const Vec2& uv) const {
  const FieldPoint<1> r = radius_.at(uv[0], uv[1]);
  constexpr double k = 1 / chart_radius_mm;
  const double s = std::sin(uv[0] * k);
  const double c = std::cos(uv[0] * k);
  const double value = r.value[0];
  const double u = r.du[0];
  const double v = r.dv[0];
  Patch patch;
  patch.point = {value * s, uv[1], axis_z_mm + value * c};
  patch.by_u = {u * s + value * c * k, 0, u * c - value * s * k};
  patch.by_v = {v * s, 1, v * c};
  const double radial = r.duu[0] - value * k * k;
  patch.by_uu = {radial * s + 2 * u * c * k, 0, radial * c - 2 * u * s * k};
  patch.by_uv = {r.duv[0] * s + v * c * k, 0, r.duv[0] * c - v * s * k};
  patch.by_vv = {r.dvv[0] * s, 0, r.dvv[0] * c};
  return patch;
}

// How strongly the foot of a deep query is drawn to the query's own chart coordinates.
struct SkinMap::Draw {
  double value = 0;
  Vec2 own = Vec2::Zero();             ///< those coordinates
  Vec3 slope = Vec3::Zero();           ///< of the value by the query
  Mat23 own_by_query = Mat23::Zero();  ///< how the coordinates move with the query
};

SkinMap::Draw SkinMap::draw_at(const Vec3& query, const Vec2& own, double radius_there) const {
  constexpr double over_mm = 1;
  const double z = query.z() - axis_z_mm;
  const double rho = std::hypot(query.x(), z);
  if (radius_there - rho < plain_depth_mm) return {};
  const FieldPoint<1> radius = radius_.at(own[0], own[1]);
  const Vec2 slope(radius.du[0], radius.dv[0]);
  const double stretch = std::sqrt(1 + slope.squaredNorm());
  const double depth = (radius.value[0] - rho) / stretch;
  const double e = (depth - plain_depth_mm) / over_mm;
  if (e <= 0) return {};
  Draw out;
  out.own = own;
  out.value = e * e / (1 + e);
  const double by_depth = e * (2 + e) / ((1 + e) * (1 + e)) / over_mm;
  const Vec3 outward(query.x() / rho, 0, z / rho);
  const double turn = chart_radius_mm / rho;
  out.own_by_query << turn * outward.z(), 0, -turn * outward.x(), 0, 1, 0;
  Mat2 curvature;
  curvature << radius.duu[0], radius.duv[0], radius.duv[0], radius.dvv[0];
  const Vec2 depth_by_own = (slope - depth / stretch * curvature * slope) / stretch;
  out.slope = by_depth * (out.own_by_query.transpose() * depth_by_own - outward / stretch);
  return out;
}

GridFrame SkinMap::usual_frame(double spacing_mm, double half_width_mm) {
  const int half = static_cast<int>(std::lround(half_width_mm / spacing_mm));
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
  const GridFrame frame = usual_frame(options.spacing_mm, options.half_width_mm);
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
  const Patch here = patch(uv);
  return here.by_u.cross(here.by_v).normalized();
}

double SkinMap::first_order_distance(const Vec3& point_face) const {
  const Vec2 uv = chart(point_face);
  const FieldPoint<1> r = radius_.at(uv[0], uv[1]);
  const double rho = std::hypot(point_face.x(), point_face.z() - axis_z_mm);
  const double by_arc = r.du[0] * chart_radius_mm / rho;
  return (rho - r.value[0]) / std::sqrt(1 + by_arc * by_arc + r.dv[0] * r.dv[0]);
}

SkinPoint SkinMap::closest(const Vec3& point_face) const {
  const Vec2 own = chart(point_face);
  return foot(point_face, draw_at(point_face, own, radius_.value_at(own[0], own[1])[0]), own);
}

SkinPoint SkinMap::near(const Vec3& point_face, const Vec2& guess, Slopes slopes) const {
  return foot(point_face, {}, guess, slopes);
}

std::optional<SkinPoint> SkinMap::pressed(const Vec3& point_face,
                                          const std::optional<Vec2>& guess) const {
  return within(0, point_face, guess);
}

std::optional<SkinPoint> SkinMap::within(double height_mm, const Vec3& point_face,
                                         const std::optional<Vec2>& guess, Slopes slopes) const {
  constexpr double steepest = 4;  // millimetres of radius to one of height, on the flank of a nose
  const Vec2 own = chart(point_face);
  const double radius = radius_.value_at(own[0], own[1])[0];
  const double z = point_face.z() - axis_z_mm;
  const double reach = radius + steepest * height_mm;
  if (point_face.x() * point_face.x() + z * z >= reach * reach) return std::nullopt;
  return foot(point_face, draw_at(point_face, own, radius), guess.value_or(own), slopes);
}

SkinPoint SkinMap::foot(const Vec3& point_face, const Draw& draw, const Vec2& guess,
                        Slopes slopes) const {
  constexpr int max_steps = 20;
  constexpr double last_step_mm = 3e-5;  // made by Taylor's series: the curvature errs by 1e-6
  constexpr double longest_step_mm = 4;
  SkinPoint out;
  out.uv = guess;
  Patch here = patch(guess);
  const bool drawn = draw.value > 0;
  const auto objective = [&](const Vec2& uv, const Patch& there) {
    return (point_face - there.point).squaredNorm() + draw.value * (uv - draw.own).squaredNorm();
  };
  double value = objective(out.uv, here);
  for (int step = 0; step < max_steps; ++step) {
    const Vec3 away = point_face - here.point;
    Vec2 residual(here.by_u.dot(away), here.by_v.dot(away));
    Mat2 g = here.metric();
    if (drawn) {
      residual -= draw.value * (out.uv - draw.own);
      g.diagonal().array() += draw.value;
    }
    Mat2 jacobian = g - here.second_along(away);
    // Past the centre of curvature Newton's matrix is no longer positive: fall back to the
    // metric, which still descends.
    if (jacobian.determinant() < 0.05 * g.determinant() || jacobian.trace() <= 0) jacobian = g;
    Vec2 move = jacobian.inverse() * residual;
    const double length = move.norm();
    if (length < last_step_mm) {
      here.shift(move);
      out.uv += move;
      break;
    }
    if (length > longest_step_mm) move *= longest_step_mm / length;
    Vec2 next = out.uv + move;
    here = patch(next);
    // Too long a step would land in the basin of another flank.
    double next_value = objective(next, here);
    while (next_value > value && move.norm() > last_step_mm) {
      move *= 0.5;
      next = out.uv + move;
      here = patch(next);
      next_value = objective(next, here);
    }
    out.uv = next;
    value = next_value;
  }
  const Vec3 away = point_face - here.point;
  out.foot = here.point;
  out.normal = here.by_u.cross(here.by_v).normalized();
  out.distance = out.normal.dot(away);
  out.gradient = out.normal;
  if (slopes == Slopes::without) return out;
  const Mat2 g = here.metric();
  const Mat2 bend = here.second_along(out.normal);
  Mat2 jacobian = g;
  if (drawn) {
    jacobian += draw.value * Mat2::Identity() - here.second_along(away);
  } else {  // all of the way is along the normal
    jacobian -= out.distance * bend;
  }
  if (std::abs(jacobian.determinant()) < 1e-9 * g.determinant()) return out;
  Mat23 tangents;
  tangents << here.by_u.transpose(), here.by_v.transpose();
  Mat23 by_query = tangents;
  if (drawn) {
    by_query += draw.value * draw.own_by_query - (out.uv - draw.own) * draw.slope.transpose();
  }
  out.duv_dx = jacobian.inverse() * by_query;
  const Mat23 turned = -(g.inverse() * bend) * out.duv_dx;
  out.normal_slope = here.by_u * turned.row(0) + here.by_v * turned.row(1);
  if (drawn) out.gradient += out.normal_slope.transpose() * away;
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
