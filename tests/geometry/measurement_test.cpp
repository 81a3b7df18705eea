#include "geometry/measurement.hpp"

#include "catch.hpp"
#include "stored_face.hpp"
#include "units/error.hpp"

using namespace rimload;

TEST_CASE("the measures of the reference face are those its author took") {
  const FaceModel face = stored_face("reference");
  struct Row {
    Measure measure;
    double value_mm;
  };
  // Stated to 0.1 mm with the landmarks, hence half of the last digit.
  for (const auto& [what, value] :
       {Row{Measure::face_length, 118.3}, Row{Measure::face_width, 139.2},
        Row{Measure::nose_breadth, 34.8}, Row{Measure::nose_length, 50.6},
        Row{Measure::nose_protrusion, 20.0}, Row{Measure::lip_length, 50.0},
        Row{Measure::bigonial_breadth, 115.2}, Row{Measure::nasal_root_breadth, 16.6},
        Row{Measure::minimum_frontal_breadth, 104.0}, Row{Measure::inner_canthal_breadth, 32.4},
        Row{Measure::outer_canthal_breadth, 87.0}}) {
    INFO(name_of(what));
    CHECK(measure(face.landmarks, what) == Approx(value).margin(0.05));
  }
}

TEST_CASE("the gradient of every measure is its finite difference") {
  FaceModel face = stored_face("reference");
  constexpr double step_mm = 1e-4;
  for (const Measure what : all_measures) {
    INFO(name_of(what));
    const Measured whole = measure_with_gradient(face.landmarks, what);
    CHECK(whole.value_mm == measure(face.landmarks, what));
    double worst = 0;
    for (std::size_t k = 0; k < face.landmarks.size(); ++k) {
      for (Eigen::Index a = 0; a < 3; ++a) {
        double& x = face.landmarks[k].position_face[a];
        const double kept = x;
        x = kept + step_mm;
        const double above = measure(face.landmarks, what);
        x = kept - step_mm;
        const double below = measure(face.landmarks, what);
        x = kept;
        const double slope = (above - below) / (2 * step_mm);
        worst =
            std::max(worst, std::abs(slope - whole.gradient[3 * static_cast<Eigen::Index>(k) + a]));
      }
    }
    CHECK(worst < 1e-8);  // rounding of 100 mm over a step of 1e-4 mm: 1e-10; curvature: 1e-9
  }
}

TEST_CASE("every measure has a name that finds it again") {
  for (const Measure what : all_measures) {
    CHECK(measure_named(name_of(what)) == what);
    CHECK(!words_for(what).empty());
  }
  CHECK(!measure_named("face_girth"));
}

TEST_CASE("a face without the landmark of a measure is refused by the landmark's name") {
  const std::vector<Landmark> bare{{"sellion", Side::midline, Vec3::Zero(), 5}};
  try {
    (void)measure(bare, Measure::face_length);
    FAIL("not refused");
  } catch (const InputError& error) {
    CHECK(std::string(error.what()).find("menton") != std::string::npos);
  }
}
