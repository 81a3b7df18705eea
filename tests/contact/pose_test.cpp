#include "contact/pose.hpp"

#include "catch.hpp"

using namespace rimload;

TEST_CASE("a pose carries its rotation vector back and forth") {
  Pose pose;
  pose.rotation = rotation_from_vector({0.3, -0.2, 0.9});
  CHECK((pose.rotation_vector() - Vec3(0.3, -0.2, 0.9)).norm() < 1e-14);
  CHECK(rotation_from_vector(Vec3::Zero()) == Mat3::Identity());
}

TEST_CASE("moving a pose turns it about a point that shifts along") {
  Pose pose;
  pose.rotation = rotation_from_vector({0.1, 0.2, 0.3});
  pose.translation_mm = {1, 2, 3};
  const Vec3 about(10, -5, 7);
  const Vec3 point(-3, 8, 1);
  const Vec3 turn(0.02, -0.5, 0.1);
  const Pose moved = pose.moved({4, 5, 6}, turn, about);
  CHECK((moved * about - pose * about - Vec3(4, 5, 6)).norm() < 1e-13);
  const Vec3 expected =
      pose * about + Vec3(4, 5, 6) + rotation_from_vector(turn) * (pose * point - pose * about);
  CHECK((moved * point - expected).norm() < 1e-13);
}
