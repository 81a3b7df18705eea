#include "geometry/skin_map.hpp"

#include "catch.hpp"
#include "stored_face.hpp"
#include "units/error.hpp"

using namespace rimload;

namespace {
const FaceModel& face() {
  static const FaceModel reference = stored_face("reference");
  return reference;
}
const SkinMap& skin() {
  static const SkinMap map(face().landmarks);
  return map;
}
// Points where rims go, outside and inside the skin; none within 3 mm of a fold's centre of
// curvature, where the distance has no derivative.
std::vector<Vec3> queries() {
  std::vector<Vec3> points;
  for (const Vec2& uv : {Vec2(0, -9), Vec2(9, -12), Vec2(24, -35), Vec2(33, -52), Vec2(-38, -70),
                         Vec2(-20, -90), Vec2(3, -98), Vec2(0, 30), Vec2(-60, -40)}) {
    for (const double height : {-2.0, -0.3, 1.7}) {
      points.push_back(skin().point(uv) + height * skin().normal(uv));
    }
  }
  return points;
}
}  // namespace

TEST_CASE("the foot point is on the skin and the line to it along the normal") {
  for (const Vec3& query : queries()) {
    const SkinPoint p = skin().closest(query);
    CHECK((skin().point(p.uv) - p.foot).norm() < 1e-12);
    CHECK((p.foot + p.distance * p.normal - query).norm() < 1e-9);
    CHECK((skin().normal(p.uv) - p.normal).norm() < 1e-12);
  }
}

TEST_CASE("gradient, Hessian and chart motion of the distance are their finite differences") {
  constexpr double h = 2e-5;
  for (const Vec3& query : queries()) {
    const SkinPoint here = skin().closest(query);
    Vec3 gradient;
    Mat3 hessian;
    Mat23 motion;
    for (Eigen::Index a = 0; a < 3; ++a) {
      const Vec3 step = h * Vec3::Unit(a);
      const SkinPoint above = skin().closest(query + step, here.uv);
      const SkinPoint below = skin().closest(query - step, here.uv);
      gradient[a] = (above.distance - below.distance) / (2 * h);
      hessian.col(a) = (above.normal - below.normal) / (2 * h);
      motion.col(a) = (above.uv - below.uv) / (2 * h);
    }
    // The map is C2: where a step crosses a grid line the third derivative jumps, by up to about
    // 0.2 /mm2 here, and the central difference of a second derivative is off by h times that.
    CHECK((gradient - here.normal).norm() < 1e-7);
    CHECK((hessian - here.hessian).norm() < 1e-5);
    CHECK((motion - here.duv_dx).norm() < 1e-5);
  }
}

TEST_CASE("the map of a symmetric face is symmetric") {
  const Vec3 flip(-1, 1, 1);
  for (const Vec3& query : queries()) {
    const SkinPoint left = skin().closest(query);
    const SkinPoint right = skin().closest(query.cwiseProduct(flip));
    CHECK(left.distance == Approx(right.distance).margin(1e-9));
    CHECK((left.normal.cwiseProduct(flip) - right.normal).norm() < 1e-9);
    CHECK((left.foot.cwiseProduct(flip) - right.foot).norm() < 1e-9);
  }
}

TEST_CASE("the map takes the short way for symmetric faces and the long way to the same end") {
  // A landmark off by a hair takes the general way.
  std::vector<Landmark> landmarks = face().landmarks;
  landmarks.back().position_face.x() += 1e-9;
  const SkinMap general(landmarks);
  for (const Vec2& uv : {Vec2(0, 0), Vec2(31, -40), Vec2(-31, -40), Vec2(-90, 20)}) {
    CHECK((general.point(uv) - skin().point(uv)).norm() < 1e-7);  // the hair through the spline
  }
}

TEST_CASE("the skin passes its landmarks as closely as the smoothing lets it") {
  double worst = 0;
  for (const Landmark& landmark : face().landmarks) {
    worst = std::max(worst, std::abs(skin().closest(landmark.position_face).distance));
  }
  CHECK(worst < 0.15);  // smoothing 0.2 mm2 and a grid of 1 mm, at the tightest curve
}

TEST_CASE("the distance to first order is exact on the skin") {
  for (const Vec2& uv : {Vec2(0, -9), Vec2(24, -35), Vec2(-38, -70), Vec2(3, -98)}) {
    CHECK(std::abs(skin().first_order_distance(skin().point(uv))) < 1e-12);
    CHECK(skin().first_order_distance(skin().point(uv) + 1e-3 * skin().normal(uv)) ==
          Approx(1e-3).epsilon(1e-2));
  }
}

TEST_CASE("a vertical line from the front meets the skin where it is") {
  for (const Vec2& xy : {Vec2(0, 0), Vec2(20, -60), Vec2(-30, -40), Vec2(0, -95)}) {
    const double z = front_z(skin(), xy[0], xy[1]);
    CHECK(std::abs(skin().first_order_distance({xy[0], xy[1], z})) < 1e-8);
  }
  CHECK(front_z(skin(), 0, 0) == Approx(0).margin(0.15));  // sellion
}

TEST_CASE("a landmark behind the axis is refused with its name") {
  std::vector<Landmark> landmarks = face().landmarks;
  landmarks[5].position_face.z() = -93;
  try {
    const SkinMap map(landmarks);
    FAIL("not refused");
  } catch (const InputError& error) {
    CHECK(std::string(error.what()).find(landmarks[5].name) != std::string::npos);
  }
}
