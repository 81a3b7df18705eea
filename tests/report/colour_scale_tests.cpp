#include <array>

#include "catch.hpp"
#include "report/colour_scale.hpp"
#include "report/palette.hpp"

namespace rimload {
namespace {

// Linear RGB as seen without one kind of cone [Machado 2009, table for severity 1.0; from memory,
// rows add up to 1].
Mat3 without_red_cones() {
  return (Mat3() << 0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882,
          -0.048116, 1.051998)
      .finished();
}
Mat3 without_green_cones() {
  return (Mat3() << 0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820,
          0.042940, 0.968881)
      .finished();
}

Vec3 seen_through(const Mat3& eye, Rgb colour) {
  return oklab_from_linear((eye * linear_rgb(colour)).cwiseMax(0.0).cwiseMin(1.0));
}

constexpr int n_steps = 20;

TEST_CASE("OKLab of known colours agrees with the published examples") {
  // White is L = 1 and grey has no colour [Ottosson 2020]; red's L = 0.628 (same source).
  CHECK(oklab({255, 255, 255}).x() == Approx(1).margin(1e-4));
  CHECK(oklab({128, 128, 128}).tail<2>().norm() < 1e-4);
  CHECK(oklab({255, 0, 0}).x() == Approx(0.628).margin(1e-3));
  for (const Rgb c : {Rgb{12, 200, 77}, Rgb{240, 3, 99}, Rgb{1, 2, 3}}) {
    CHECK(rgb_from_linear(linear_from_oklab(oklab(c))) == c);
  }
}

TEST_CASE("Lightness of the pressure scale falls along a straight line") {
  const ColourScale scale(100);
  for (int k = 0; k <= n_steps; ++k) {
    const double t = static_cast<double>(k) / n_steps;
    const double straight = 0.92 - 0.62 * t;
    // Rounding to 8 bits moves L by up to about 0.003.
    CHECK(oklab(scale.at(100 * t)).x() == Approx(straight).margin(0.004));
  }
}

TEST_CASE("Every colour of the pressure scale can be shown without clipping") {
  for (int k = 0; k <= 100; ++k) {
    const Vec3 linear = linear_from_oklab(pressure_oklab(k / 100.0));
    CHECK(linear.minCoeff() >= -1e-3);  // a thousandth of full light is below one 8-bit step
    CHECK(linear.maxCoeff() <= 1.001);
  }
}

TEST_CASE("Equal steps of pressure are equal steps of colour") {
  double least = 1;
  double most = 0;
  for (int k = 0; k < n_steps; ++k) {
    const double step =
        (pressure_oklab((k + 1.0) / n_steps) - pressure_oklab(1.0 * k / n_steps)).norm();
    least = std::min(least, step);
    most = std::max(most, step);
  }
  CHECK(most / least < 1.02);  // chords of a bent curve are a little shorter than its arcs
}

TEST_CASE("The pressure scale stays ordered for eyes without red or green cones") {
  const ColourScale scale(100);
  for (const Mat3& eye : {without_red_cones(), without_green_cones()}) {
    double before = 2;
    for (int k = 0; k <= n_steps; ++k) {
      const double lightness = seen_through(eye, scale.at(100.0 * k / n_steps)).x();
      CHECK(lightness < before - 0.015);  // half of an even step (0.62 / 20) at the least
      before = lightness;
    }
  }
}

TEST_CASE("Pressures outside the range take the colour of its ends") {
  const ColourScale scale(80);
  CHECK(scale.at(-5) == scale.at(0));
  CHECK(scale.at(500) == scale.at(80));
  CHECK_FALSE(scale.at(0) == scale.at(80));
}

TEST_CASE("All text stands out from its ground by 4.5 to 1 or more") {
  using namespace palette;
  CHECK(contrast_ratio({0, 0, 0}, {255, 255, 255}) == Approx(21).margin(0.01));
  for (const Rgb text : {ink, soft_ink, alarm, dressing}) CHECK(contrast_ratio(text, paper) >= 4.5);
  CHECK(contrast_ratio(paper, ink) >= 4.5);  // the name of the view, white on dark
}

}  // namespace
}  // namespace rimload
