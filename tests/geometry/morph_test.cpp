#include "geometry/morph.hpp"

#include <Eigen/Eigenvalues>

#include "catch.hpp"
#include "stored_face.hpp"

using namespace rimload;

namespace {
std::vector<MeasureTarget> some_targets() {
  return {{Measure::face_width, 131, ""},     {Measure::face_length, 126, ""},
          {Measure::nose_breadth, 38, ""},    {Measure::nose_protrusion, 17.5, ""},
          {Measure::lip_length, 46, ""},      {Measure::nasal_root_breadth, 15, ""},
          {Measure::nose_length, 54.5, ""},   {Measure::interpupillary_breadth, 60, ""},
          {Measure::menton_subnasale, 75, ""}};
}
}  // namespace

TEST_CASE("a morphed face has the measures asked for to 1e-6 mm") {
  const FaceModel face = stored_face("reference");
  const MorphSummary result = morph(face.landmarks, some_targets());
  CHECK(result.termination == MorphTermination::converged);
  CHECK(result.iterations < 15);
  for (const MeasureTarget& target : some_targets()) {
    CHECK(std::abs(measure(result.landmarks, target.measure) - target.target_mm) < 1e-6);
  }
  CHECK(result.worst_mismatch_mm < 1e-6);
}

TEST_CASE("a symmetric face stays symmetric to the last bit and keeps sellion at the origin") {
  const FaceModel face = stored_face("reference");
  const MorphSummary result = morph(face.landmarks, some_targets());
  CHECK(mirror_images(result.landmarks).has_value());
  CHECK(find_landmark(result.landmarks, "sellion", Side::midline).position_face == Vec3::Zero());
}

TEST_CASE("a face that has the measures already is not moved") {
  const FaceModel face = stored_face("reference");
  std::vector<MeasureTarget> targets;
  for (const Measure what : all_measures) {
    targets.push_back({what, measure(face.landmarks, what), ""});
  }
  const MorphSummary result = morph(face.landmarks, targets);
  CHECK(result.termination == MorphTermination::converged);
  for (std::size_t k = 0; k < face.landmarks.size(); ++k) {
    // 1e-9: a hundred times the step at which the iteration stops rounding.
    CHECK((result.landmarks[k].position_face - face.landmarks[k].position_face).norm() < 1e-9);
  }
}

TEST_CASE("an asymmetric face keeps its asymmetry when its measures change") {
  FaceModel face = stored_face("reference");
  for (Landmark& landmark : face.landmarks) {
    if (landmark.name == "alare" && landmark.side == Side::left) landmark.position_face.y() += 3;
  }
  const MorphSummary result = morph(face.landmarks, some_targets());
  const double left = find_landmark(result.landmarks, "alare", Side::left).position_face.y();
  const double right = find_landmark(result.landmarks, "alare", Side::right).position_face.y();
  // 3 mm before; the slanted nose breadth grows along its own line and the nose by 8 %.
  CHECK(left - right > 2.5);
  CHECK(left - right < 4.5);
}

TEST_CASE("measures that contradict each other end as a result, not as a face") {
  const FaceModel face = stored_face("reference");
  // Sellion to menton can't exceed sellion to subnasale to menton.
  const std::vector<MeasureTarget> targets{{Measure::face_length, 160, ""},
                                           {Measure::nose_length, 50, ""},
                                           {Measure::menton_subnasale, 70, ""}};
  const MorphSummary result = morph(face.landmarks, targets);
  CHECK(result.worst_mismatch_mm > 1);
  CHECK(result.termination == MorphTermination::iteration_limit);
}

TEST_CASE("the covariance of displacements is symmetric and has no negative eigenvalue") {
  const FaceModel face = stored_face("reference");
  const Eigen::MatrixXd k = displacement_covariance(face.landmarks, usual_morph_prior());
  CHECK((k - k.transpose()).lpNorm<Eigen::Infinity>() == 0);
  const Eigen::VectorXd values = Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(k).eigenvalues();
  CHECK(values.minCoeff() > -1e-9 * values.maxCoeff());  // rounding of a semidefinite matrix
}

TEST_CASE("the prior's spread of face width and length is of the size published") {
  const FaceModel face = stored_face("reference");
  const Eigen::MatrixXd k = displacement_covariance(face.landmarks, usual_morph_prior());
  const auto sd = [&](Measure what) {
    const Eigen::VectorXd g = measure_with_gradient(face.landmarks, what).gradient;
    return std::sqrt(g.dot(k * g));
  };
  // Published pooled SDs are 7.9 and 8.0 mm (ZHUANG2005, from memory); the prior's bumps come on
  // top of its growth, so within a third.
  CHECK(sd(Measure::face_width) == Approx(7.9).epsilon(0.34));
  CHECK(sd(Measure::face_length) == Approx(8.0).epsilon(0.34));
}
