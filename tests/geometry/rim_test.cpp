#include "geometry/rim.hpp"

#include <numbers>
#include <numeric>

#include "catch.hpp"

using namespace rimload;

namespace {
// A flat ring from its apex at the top towards the wearer's left.
Rim ring(double radius_mm, int n_controls) {
  Rim rim;
  for (int k = 0; k < n_controls; ++k) {
    const double t = 2 * std::numbers::pi * k / n_controls;
    rim.controls.push_back(
        {{radius_mm * std::sin(t), radius_mm * (std::cos(t) - 1), 0}, Vec3::UnitZ(), 1});
  }
  rim.section = {9, 8};
  return rim;
}
}  // namespace

TEST_CASE("a sampled circular rim has the circle's perimeter and the ring's area") {
  const double radius = 40;
  const SampledRim rim = sample_rim(ring(radius, 24), {240, 7});
  // 24 controls: the spline's own error, fourth order, is 5e-6 of the radius.
  CHECK(rim.perimeter_mm == Approx(2 * std::numbers::pi * radius).epsilon(1e-5));
  double area = 0;
  for (const RimStation& station : rim.stations) area += station.length_mm;
  CHECK(area == Approx(rim.perimeter_mm));
  // Each row across at offset s is a circle of radius R + s: area 2 pi R w, and its second moment
  // tells that the offsets count.
  for (std::size_t j = 0; j < rim.n_across(); ++j) {
    const double length = rim.sample_length_mm.row(static_cast<Eigen::Index>(j)).sum();
    // A chord over two stations of 240: sin(x)/x with x = 2 pi/240, 1.1e-4 short.
    CHECK(length == Approx(2 * std::numbers::pi * (radius + rim.offset_mm[j])).epsilon(2e-4));
  }
  double cells = 0;
  for (std::size_t j = 0; j < rim.n_across(); ++j) {
    cells += rim.sample_length_mm.row(static_cast<Eigen::Index>(j)).sum() * rim.cell_mm[j];
  }
  CHECK(cells == Approx(2 * std::numbers::pi * radius * 9).epsilon(2e-4));
}

TEST_CASE("stations lie at equal arc length and carry an orthonormal frame") {
  const SampledRim rim = sample_rim(ring(40, 24), {240, 7});
  const double chord = (rim.stations[1].crown - rim.stations[0].crown).norm();
  for (std::size_t i = 0; i < rim.n_stations(); ++i) {
    const RimStation& s = rim.stations[i];
    const RimStation& next = rim.stations[(i + 1) % rim.n_stations()];
    CHECK((next.crown - s.crown).norm() == Approx(chord).epsilon(1e-4));
    CHECK(std::abs(s.tangent.dot(s.axis)) < 1e-12);
    CHECK(s.tangent.norm() == Approx(1));
    CHECK(s.axis.norm() == Approx(1));
    // Out of the opening: away from the centre at (0, -40, 0).
    CHECK(s.across.dot(s.crown - Vec3(0, -40, 0)) == Approx(40).epsilon(1e-3));
  }
  CHECK(rim.stations[0].tangent.x() > 0.999);  // to the wearer's left
}

TEST_CASE("finer samples end where coarse ones do and cover the lip's width too") {
  for (const int n_across : {5, 7, 13}) {
    CAPTURE(n_across);
    const SampledRim rim = sample_rim(ring(40, 24), {240, n_across});
    CHECK(rim.offset_mm.back() == Approx(0.5 * 9 - 9.0 / 14));
    CHECK(std::accumulate(rim.cell_mm.begin(), rim.cell_mm.end(), 0.0) == Approx(9));
    CHECK(rim.offset_mm[1] - rim.offset_mm[0] == Approx(rim.spacing_mm));
  }
}

TEST_CASE("the crown falls away on both sides as its radius says") {
  const SampledRim rim = sample_rim(ring(40, 24), {240, 7});
  REQUIRE(rim.n_across() == 7);
  CHECK(rim.offset_mm[3] == 0);
  CHECK(rim.drop_mm[3] == 0);
  for (std::size_t j = 0; j < 7; ++j) {
    CHECK(rim.offset_mm[j] == Approx(-rim.offset_mm[6 - j]));
    CHECK(rim.drop_mm[j] == Approx(rim.offset_mm[j] * rim.offset_mm[j] / 16));
    CHECK(rim.sample(0, j).z() == Approx(rim.drop_mm[j]));
  }
}
