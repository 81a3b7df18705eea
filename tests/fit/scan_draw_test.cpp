// Faces drawn about a scanned one.
#include "fit/scan_draw.hpp"

#include <algorithm>
#include <cmath>

#include "catch.hpp"
#include "fit/bands.hpp"
#include "fit/fit.hpp"
#include "geometry/face_prior.hpp"
#include "geometry/skin_map.hpp"
#include "stored_case.hpp"

using namespace rimload;

namespace {

const FaceModel& reference() {
  static const FaceModel face = stored_face("reference");
  return face;
}

// Of the skin, at landmarks that rims touch and halfway between neighbours.
std::vector<Vec2> places_under_rims() {
  const auto names = seal_landmarks(SealRegion::over_nose_and_mouth);
  std::vector<Vec2> at;
  for (const Landmark& each : reference().landmarks) {
    if (std::find(names.begin(), names.end(), each.name) != names.end()) {
      at.push_back(SkinMap::chart(each.position_face));
    }
  }
  std::vector<Vec2> out = at;
  constexpr double neighbours_mm = 30;
  for (std::size_t i = 0; i < at.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if ((at[i] - at[j]).norm() < neighbours_mm) out.push_back(0.5 * (at[i] + at[j]));
    }
  }
  return out;
}

double width_at_bridge(double residual_mm) {
  Case input = demo_case("first-fit");
  input.scan_residual_mm = residual_mm;
  const Estimate banded = with_bands(estimate_fit(input), {.n_draws = 40, .n_threads = 2});
  REQUIRE(banded.bands);
  for (const SiteBand& each : banded.bands->sites) {
    if (each.site.site == Site::nasal_bridge) return each.sensor.high - each.sensor.low;
  }
  FAIL("no band at the bridge");
  return 0;
}

}  // namespace

TEST_CASE("drawn skin lies about the scanned skin by the scan's residual, where rims go") {
  constexpr double residual_mm = 0.8;
  constexpr int n_draws = 60;
  const ScanSampler sampler(reference(), residual_mm);
  const SkinMap scanned(reference().landmarks);
  const std::vector<Vec2> places = places_under_rims();
  REQUIRE(places.size() > 30);
  double sum = 0;
  double along = 0;
  for (unsigned seed = 1; seed <= n_draws; ++seed) {
    const SkinMap drawn(sampler.draw(seed).landmarks);
    for (const Vec2& uv : places) {
      const double moved = -drawn.first_order_distance(scanned.point(uv));
      const double beside = -drawn.first_order_distance(scanned.point(uv + Vec2(2, 0)));
      sum += moved * moved;
      along += (moved - beside) * (moved - beside);
    }
  }
  const double n = static_cast<double>(places.size()) * n_draws;
  // Between landmarks a spline through values that differ has less than their spread.
  CHECK(std::sqrt(sum / n) == Approx(residual_mm).epsilon(0.15));
  // A process of length l changes over 2 mm by 2/l of its SD (to first order).
  CHECK(std::sqrt(along / n) < 3 * residual_mm * 2 / 20);
}

TEST_CASE("depths take one factor over the face, even on a logarithmic scale") {
  const ScanSampler sampler(reference(), 0.5);
  int n_above = 0;
  constexpr unsigned n_draws = 400;
  double lowest = 2;
  double highest = 0;
  for (unsigned seed = 0; seed < n_draws; ++seed) {
    const FaceModel drawn = sampler.draw(seed);
    const double factor =
        drawn.landmarks.front().tissue_depth_mm / reference().landmarks.front().tissue_depth_mm;
    for (std::size_t k = 0; k < drawn.landmarks.size(); ++k) {
      CHECK(drawn.landmarks[k].tissue_depth_mm ==
            Approx(factor * reference().landmarks[k].tissue_depth_mm).epsilon(1e-12));
    }
    n_above += factor > 1;
    lowest = std::min(lowest, factor);
    highest = std::max(highest, factor);
  }
  CHECK(lowest >= 0.8);
  CHECK(lowest < 0.81);
  CHECK(highest <= 1.25);
  CHECK(highest > 1.23);
  CHECK(std::abs(n_above - 200) < 40);  // four SDs of a fair toss
}

TEST_CASE("a seed gives one face; a scan without residual keeps its skin") {
  const ScanSampler sampler(reference(), 0.5);
  const FaceModel a = sampler.draw(3);
  const FaceModel b = sampler.draw(3);
  const FaceModel c = sampler.draw(4);
  const FaceModel still = ScanSampler(reference(), 0).draw(3);
  for (std::size_t k = 0; k < a.landmarks.size(); ++k) {
    CHECK(a.landmarks[k].position_face == b.landmarks[k].position_face);
    CHECK(a.landmarks[k].position_face != c.landmarks[k].position_face);
    CHECK(still.landmarks[k].position_face == reference().landmarks[k].position_face);
  }
}

TEST_CASE("a scan with a larger residual has wider bands; without a scan no face is drawn") {
  const Case plain = demo_case("first-fit");
  CHECK(faces_of_draws(plain, uncertain_draws(3, 1)).empty());
  CHECK(scan_draw_words(plain).empty());
  Case scanned = plain;
  scanned.scan_residual_mm = 0.4;
  CHECK(faces_of_draws(scanned, uncertain_draws(3, 1)).size() == 3);
  CHECK(scan_draw_words(scanned).find("0.40 mm RMS") != std::string::npos);
  CHECK(width_at_bridge(1.5) > 1.2 * width_at_bridge(0.1));
}
