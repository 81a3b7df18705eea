// Dimensions of populations against the rows of the evidence, by hand.
#include "geometry/face_population.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>

#include "catch.hpp"
#include "units/error.hpp"

using namespace rimload;

namespace {
PopulationDimension row(const FacePopulation& population, Measure measure) {
  const auto found =
      std::find_if(population.dimensions.begin(), population.dimensions.end(),
                   [&](const PopulationDimension& each) { return each.measure == measure; });
  REQUIRE(found != population.dimensions.end());
  return *found;
}
bool has(const FacePopulation& population, Measure measure) {
  return std::any_of(population.dimensions.begin(), population.dimensions.end(),
                     [&](const PopulationDimension& each) { return each.measure == measure; });
}
}  // namespace

TEST_CASE("adults of a sex have its published means and SDs") {
  const FacePopulation women = face_population({.sex = Sex::female, .age_years = 54});
  CHECK(row(women, Measure::face_width).mean_mm == 135.1);
  CHECK(row(women, Measure::face_width).sd_mm == Approx(6.5));
  CHECK(row(women, Measure::lip_length).mean_mm == 48.0);
  CHECK(women.words == "adult women");
  CHECK_FALSE(women.children);
  CHECK_FALSE(women.older_than_surveyed);
  CHECK(face_population({.age_years = 82}).older_than_surveyed);
}

TEST_CASE("of both sexes the spread holds half the difference between them") {
  const FacePopulation both = face_population({});
  // By hand: sqrt((6.5^2 + 6.9^2)/2 + 4.2^2) = 7.9101.
  CHECK(row(both, Measure::face_width).mean_mm == Approx(139.3));
  CHECK(row(both, Measure::face_width).sd_mm == Approx(7.9101).margin(5e-5));
}

TEST_CASE("published correlations stand, the others are as asked") {
  for (const double assumed : {0.0, 0.25, 0.5}) {
    const FacePopulation men = face_population({.sex = Sex::male, .correlation = assumed});
    const auto r = [&](Measure a, Measure b) {
      const auto at = [&](Measure m) {
        return std::find_if(men.dimensions.begin(), men.dimensions.end(),
                            [&](const auto& each) { return each.measure == m; }) -
               men.dimensions.begin();
      };
      return men.covariance(at(a), at(b)) / (row(men, a).sd_mm * row(men, b).sd_mm);
    };
    CHECK(r(Measure::face_width, Measure::face_length) == Approx(0.199));
    CHECK(r(Measure::face_width, Measure::interpupillary_breadth) == Approx(0.448));
    CHECK(r(Measure::face_length, Measure::interpupillary_breadth) == Approx(0.181));
    CHECK(r(Measure::nose_breadth, Measure::lip_length) == Approx(assumed).margin(1e-12));
    CHECK(Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(men.covariance).eigenvalues().minCoeff() >
          0);
  }
}

TEST_CASE("children have the rows of their age, in a straight line between ages") {
  const FacePopulation four = face_population({.sex = Sex::female, .age_years = 4});
  CHECK(four.children);
  CHECK(four.words == "girls of 4 years");
  CHECK(row(four, Measure::face_width).mean_mm == Approx(112.0));
  CHECK(row(four, Measure::face_length).mean_mm == Approx(86.0));
  CHECK(row(four, Measure::nose_breadth).mean_mm == Approx(27.75));
  const FacePopulation later = face_population({.sex = Sex::female, .age_years = 4.5});
  CHECK(row(later, Measure::face_length).mean_mm == Approx(0.5 * (86.0 + 86.2)));
  CHECK(row(later, Measure::face_width).sd_mm == Approx(0.5 * (3.7 + 6.3)));
  // By ratio: adult women 110.1 mm times 81.91/94.07 of the curve at 4 and at 18 years.
  CHECK(row(four, Measure::bigonial_breadth).mean_mm == Approx(110.1 * 81.91 / 94.07));
}

TEST_CASE("a table that begins later is not extrapolated: its dimensions are left out") {
  const FacePopulation two = face_population({.age_years = 2});
  CHECK(has(two, Measure::face_width));
  CHECK_FALSE(has(two, Measure::nose_breadth));
  CHECK(has(face_population({.age_years = 3}), Measure::nose_breadth));
}

TEST_CASE("infants and neonates are refused with the reason") {
  for (const double age : {0.0, 0.5, 1.99, -1.0}) {
    CHECK_THROWS_AS(face_population({.age_years = age}), InputError);
  }
  try {
    (void)face_population({.age_years = 0.1});
  } catch (const InputError& error) {
    CHECK(std::string(error.what()).find("no face is made below 2 years") != std::string::npos);
  }
}
