#include "fit/uncertainty.hpp"

#include <numeric>

#include "case/mask_of_case.hpp"
#include "catch.hpp"
#include "stored_case.hpp"
#include "units/units.hpp"

using namespace rimload;

TEST_CASE("draws stay within their ranges and fill them evenly") {
  const auto draws = uncertain_draws(64, 7);
  REQUIRE(draws.size() == 64);
  std::array<double, 6> sum{};
  for (const UncertainInputs& draw : draws) {
    const auto fraction = fractions_of(draw);
    for (std::size_t k = 0; k < fraction.size(); ++k) {
      REQUIRE(fraction[k] >= 0);
      REQUIRE(fraction[k] <= 1);
      sum[k] += fraction[k] / 64;
    }
  }
  // 64 points of Sobol's sequence, shifted: the mean errs by less than 1/64 where 64 random ones
  // would by 0.036; Poisson's ratio comes in 8 steps.
  for (const double mean : sum) CHECK(mean == Approx(0.5).margin(0.02));
}

TEST_CASE("the same seed gives the same draws, another seed others") {
  const auto a = uncertain_draws(5, 3);
  const auto b = uncertain_draws(5, 3);
  const auto c = uncertain_draws(5, 4);
  for (std::size_t k = 0; k < a.size(); ++k) {
    CHECK(fractions_of(a[k]) == fractions_of(b[k]));
    CHECK(a[k].face_seed == b[k].face_seed);
  }
  CHECK(fractions_of(a[0]) != fractions_of(c[0]));
}

TEST_CASE("a draw changes what it names") {
  const Case input = case_of({});
  const FaceInUse face(input.face);
  const Mask mask = make_mask(input);
  UncertainInputs draw;
  draw.tissue_factor = 2;
  draw.poisson = 0.42;
  draw.lip_factor = 1.2;
  draw.friction = 0.5;
  draw.sealed_above = units::from_cmh2o(1.2);
  const Vec2 uv(20, -50);
  CHECK(with_inputs(face, draw).tissue.at(uv).youngs_n_mm2 ==
        Approx(2 * face.tissue.at(uv).youngs_n_mm2));
  CHECK(with_inputs(face, draw).modulus.poisson() == Approx(0.42).margin(0.09 / 16));
  CHECK(with_inputs(mask, draw).lip.stiffness_n_mm3 == Approx(1.2 * mask.lip.stiffness_n_mm3));
  CHECK(with_inputs(mask, draw).friction == 0.5);
  CHECK(with_inputs(input, draw).sealed_above == draw.sealed_above);
}

TEST_CASE("a band is 10, 50 and 90 percent of the values") {
  std::vector<double> values(101);
  std::iota(values.rbegin(), values.rend(), 0.0);
  const ValueBand band = band_of(values);
  CHECK(band.low == 10);
  CHECK(band.median == 50);
  CHECK(band.high == 90);
  CHECK(band_of({3}).median == 3);
}

TEST_CASE("rank correlation is Spearman's, with ties at their mean rank") {
  CHECK(rank_correlation({1, 2, 3, 4}, {10, 100, 1000, 10000}) == Approx(1));
  CHECK(rank_correlation({1, 2, 3, 4}, {8, 6, 4, 2}) == Approx(-1));
  // By hand: ranks 1, 2.5, 2.5, 4 against 1, 2, 3, 4: 4.5/sqrt(4.5 x 5).
  CHECK(rank_correlation({1, 2, 2, 3}, {1, 2, 3, 4}) == Approx(4.5 / std::sqrt(22.5)));
  CHECK(rank_correlation({1, 1, 1}, {1, 2, 3}) == 0);
}

TEST_CASE("weighted bands: equal weights change no bit, weight 0 is absence, more weight pulls") {
  const std::vector<double> values{4, 1, 3, 2, 9};
  const ValueBand plain = band_of(values);
  const ValueBand equal = band_of(values, std::vector<double>(5, 0.25));
  CHECK(equal.low == plain.low);
  CHECK(equal.median == plain.median);
  CHECK(equal.high == plain.high);
  CHECK(band_of(values, {1, 1, 1, 1, 0}).high == band_of({4, 1, 3, 2}).high);
  CHECK(band_of(values, {0, 0, 1, 0, 0}).low == 3);
  // Places of 1, 2, 3, 4, 9 by hand: 0, 1, 2, 3, 6; the middle is that of 4.
  CHECK(band_of(values, {1, 1, 1, 1, 5}).median == Approx(4));
}
