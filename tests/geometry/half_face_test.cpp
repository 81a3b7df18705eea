#include "geometry/half_face.hpp"

#include <algorithm>

#include "catch.hpp"
#include "geometry/measurement.hpp"
#include "geometry/morph.hpp"
#include "stored_face.hpp"

using namespace rimload;

TEST_CASE("a change of half a face moves both halves and leaves sellion where it is") {
  const FaceModel face = stored_face("reference");
  const HalfFace half(face.landmarks);
  // 19 landmarks of the midline beside sellion, 54 of the left side.
  const auto n_left = std::count_if(face.landmarks.begin(), face.landmarks.end(),
                                    [](const auto& each) { return each.side == Side::left; });
  const auto n_midline = std::ssize(face.landmarks) - 2 * n_left;
  CHECK(half.n() == 2 * (n_midline - 1) + 3 * n_left);
  const Eigen::VectorXd change = Eigen::VectorXd::LinSpaced(half.n(), -2, 3);
  const auto moved = half.moved(face.landmarks, change);
  CHECK(mirror_images(moved).has_value());
  CHECK(find_landmark(moved, "sellion", Side::midline).position_face == Vec3::Zero());
  // 1e-13: rounding of positions of a hundred millimetres.
  CHECK((half.change(face.landmarks, moved) - change).lpNorm<Eigen::Infinity>() < 1e-13);
}

TEST_CASE("a folded gradient gives a measure's slope along changes of the half") {
  const FaceModel face = stored_face("adult-male");
  const HalfFace half(face.landmarks);
  const Eigen::VectorXd change = Eigen::VectorXd::LinSpaced(half.n(), -1, 1).array().sin();
  for (const Measure what : all_measures) {
    const double step = 1e-4;
    const double ahead = measure(half.moved(face.landmarks, step * change), what);
    const double behind = measure(half.moved(face.landmarks, -step * change), what);
    const double slope =
        half.fold(measure_with_gradient(face.landmarks, what).gradient).dot(change);
    CHECK(slope == Approx((ahead - behind) / (2 * step)).margin(1e-7));
  }
}

TEST_CASE("the folded covariance is that of the mirrored means of displacements, from sellion's") {
  const FaceModel face = stored_face("reference");
  const HalfFace half(face.landmarks);
  const Eigen::MatrixXd full = displacement_covariance(face.landmarks, usual_morph_prior());
  // Column k: what coordinate k becomes when each landmark in turn is moved by one along each axis.
  const auto n = static_cast<Eigen::Index>(face.landmarks.size());
  const auto images = mirror_images(face.landmarks).value();
  Eigen::MatrixXd onto(half.n(), 3 * n);
  for (Eigen::Index k = 0; k < 3 * n; ++k) {
    auto moved = face.landmarks;
    const auto landmark = static_cast<std::size_t>(k / 3);
    moved[landmark].position_face[k % 3] += 0.5;
    moved[images[landmark]].position_face[k % 3] += k % 3 == 0 ? -0.5 : 0.5;
    onto.col(k) = half.change(face.landmarks, moved);
  }
  const Eigen::MatrixXd wanted = onto * full * onto.transpose();
  // 1e-9 mm2: rounding of sums of products of up to a hundred.
  CHECK((half.fold_covariance(full) - wanted).lpNorm<Eigen::Infinity>() < 1e-9);
}
