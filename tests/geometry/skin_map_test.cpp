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

namespace {
void compare_with_finite_differences(const Vec3& query, double gradient_error) {
  constexpr double h = 2e-5;
  const SkinPoint here = skin().closest(query);
  Vec3 gradient;
  Mat3 normal_slope;
  Mat23 motion;
  for (Eigen::Index a = 0; a < 3; ++a) {
    const Vec3 step = h * Vec3::Unit(a);
    const SkinPoint above = skin().closest(query + step);
    const SkinPoint below = skin().closest(query - step);
    gradient[a] = (above.distance - below.distance) / (2 * h);
    normal_slope.col(a) = (above.normal - below.normal) / (2 * h);
    motion.col(a) = (above.uv - below.uv) / (2 * h);
  }
  // The map is C2: where a step crosses a grid line the third derivative jumps, by up to about
  // 0.2 /mm2 here, and the central difference of a second derivative is off by h times that.
  CHECK((gradient - here.gradient).norm() < gradient_error);
  CHECK((normal_slope - here.normal_slope).norm() < 1e-5);
  CHECK((motion - here.duv_dx).norm() < 1e-5);
}
}  // namespace

TEST_CASE("gradient, turn of the normal and motion of the foot are their finite differences") {
  for (const Vec3& query : queries()) {
    compare_with_finite_differences(query, 1e-7);
    CHECK((skin().closest(query).gradient - skin().closest(query).normal).norm() < 1e-12);
  }
}

TEST_CASE("deep in the skin too, beneath the ridge of the nose as well") {
  for (const Vec2& uv : {Vec2(0, -9), Vec2(1, -20), Vec2(-3, -30), Vec2(14, -44), Vec2(24, -35),
                         Vec2(-38, -70), Vec2(3, -98)}) {
    for (const double depth : {3.1, 5.0, 9.0}) {
      // Deep down the gradient itself holds second derivatives.
      compare_with_finite_differences(skin().point(uv) - depth * Vec3::UnitZ(), 1e-5);
    }
  }
}

TEST_CASE("the foot of a point that sinks beneath a ridge never leaps") {
  double longest = 0;
  for (double y = -38; y <= 0; y += 1.5) {
    for (double x = -16; x <= 16; x += 1) {
      const Vec3 start = skin().point({x, y});
      SkinPoint before = skin().closest(start);
      for (double depth = 0.01; depth < 10; depth += 0.01) {
        const SkinPoint here = skin().closest(start - depth * Vec3(0.3, -0.2, 0.9));
        longest = std::max(longest, (here.foot - before.foot).norm());
        before = here;
      }
    }
  }
  CHECK(longest < 0.5);
}

TEST_CASE("only a point beneath the skin is pressed") {
  for (const Vec3& query : queries()) {
    const SkinPoint here = skin().closest(query);
    const auto pressed = skin().pressed(query);
    REQUIRE(pressed.has_value() == (here.distance < 0));
    if (pressed) CHECK(pressed->distance == here.distance);
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
