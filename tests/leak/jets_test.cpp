#include <algorithm>

#include "catch.hpp"
#include "leak/ring.hpp"
#include "leak/seal.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

constexpr double gas_pressure = units::from_cmh2o(10);
constexpr double sealed = units::from_cmh2o(15);

// A ring around nose and mouth; a landmark of each site at the ring's place.
Ring oronasal_ring() {
  Ring ring(-45);
  ring.add_landmark("dorsum_upper", Side::midline, {0, -10, 0});
  for (const auto& [side, sign] : {std::pair{Side::left, 1.0}, std::pair{Side::right, -1.0}}) {
    ring.add_landmark("sidewall_lower", side, {sign * 25, -20, 0});
    ring.add_landmark("cheek_mid", side, {sign * 35, -45, 0});
    ring.add_landmark("perioral_side", side, {sign * 25, -70, 0});
  }
  ring.add_landmark("stomion", Side::midline, {0, -62, 0});
  ring.add_landmark("pogonion", Side::midline, {0, -80, 0});
  return ring;
}

LeakSummary leak_of(Ring& ring, const std::function<bool(double degrees)>& open) {
  ring.press([&](double degrees) {
    return open(degrees) ? Ring::Contact{0, 0.5} : Ring::Contact{sealed, -1};
  });
  ring.state.gas_pressure = gas_pressure;
  const SealSummary seal =
      rim_seal(ring.state, ring.mask, SiteFinder(ring.landmarks), humid_gas(0.21));
  return rim_leak(seal, ring.state, ring.mask, ring.landmarks);
}

LeakSegment only_segment(Ring& ring, double degrees) {
  const LeakSummary leak = leak_of(ring, [&](double at) { return std::abs(at - degrees) < 3; });
  REQUIRE(leak.segments.size() == 1);
  return leak.segments.front();
}

}  // namespace

TEST_CASE("A jet is named after where it points") {
  Ring ring = oronasal_ring();
  CHECK(only_segment(ring, 45).direction == JetDirection::left_eye);
  CHECK(only_segment(ring, 315).direction == JetDirection::right_eye);
  CHECK(only_segment(ring, 90).direction == JetDirection::cheek);
  CHECK(only_segment(ring, 180).direction == JetDirection::jawline);
  CHECK(only_segment(ring, 5).direction == JetDirection::nose);
}

TEST_CASE("Beside and below the mouth a downward jet runs along the jawline") {
  Ring ring = oronasal_ring();
  for (const double degrees : {130.0, 135.0, 140.0, 220.0, 225.0, 230.0}) {
    CAPTURE(degrees);
    const LeakSegment jet = only_segment(ring, degrees);
    CHECK(jet.site.site == Site::mouth_corner);
    CHECK(jet.direction == JetDirection::jawline);
  }
  CHECK(only_segment(ring, 110).direction == JetDirection::cheek);  // sideways
  Ring high(0);                                                     // downward, above the mouth
  high.add_landmark("stomion", Side::midline, {0, -62, 0});
  high.add_landmark("cheek_mid", Side::left, {25, -25, 0});
  CHECK(only_segment(high, 140).direction == JetDirection::cheek);
}

TEST_CASE("A jet leaves the mask square to the rim, along the skin") {
  Ring ring = oronasal_ring();
  const LeakSegment left = only_segment(ring, 90);
  CHECK((left.towards - Vec3(1, 0, 0)).norm() < 1e-3);  // the rim is a spline through a circle
  CHECK((left.at_face - Vec3(35, -45, 0)).norm() < 0.1);
  for (ContactSample& sample : ring.state.samples) sample.normal = Vec3(1, 0, 1).normalized();
  const LeakSegment sloping = only_segment(ring, 90);
  CHECK((sloping.towards - Vec3(1, 0, -1).normalized()).norm() < 1e-3);
}

TEST_CASE("A jet starts on the skin, also of a long leak round a convex chin") {
  Ring ring = oronasal_ring();
  const LeakSummary leak =
      leak_of(ring, [](double degrees) { return std::abs(degrees - 180) < 50; });
  REQUIRE_FALSE(leak.segments.empty());
  for (const LeakSegment& segment : leak.segments) {
    // The ring is 35 mm in radius; between stations 1.5 mm apart the chord sags by 0.01 mm.
    CHECK((segment.at_face - Vec3(0, -45, 0)).norm() == Approx(35).margin(0.1));
  }
  const auto chin =
      std::find_if(leak.segments.begin(), leak.segments.end(),
                   [](const LeakSegment& segment) { return segment.site.site == Site::chin; });
  REQUIRE(chin != leak.segments.end());
  CHECK(chin->length_mm > 25);
  CHECK((chin->at_face - Vec3(0, -80, 0)).norm() < 0.1);
}

TEST_CASE("Under a nasal mask a jet at the upper lip points to the mouth") {
  Ring ring(-22);
  ring.add_landmark("labrale_superius", Side::midline, {0, -57, 0});
  ring.add_landmark("glabella", Side::midline, {0, 13, 0});
  CHECK(only_segment(ring, 180).direction == JetDirection::mouth);
}

TEST_CASE("Above a mask below the nose a jet at the upper lip points to the nose") {
  Ring ring(-88);
  ring.add_landmark("subnasale", Side::midline, {0, -53, 0});
  ring.add_landmark("pogonion", Side::midline, {0, -123, 0});
  CHECK(only_segment(ring, 5).direction == JetDirection::nose);
}

TEST_CASE("Above a total-face mask a jet runs over the forehead") {
  Ring ring(0);
  ring.add_landmark("glabella", Side::midline, {0, 35, 0});
  CHECK(only_segment(ring, 5).direction == JetDirection::forehead);
}

TEST_CASE("A leak across the apex is one segment") {
  Ring ring = oronasal_ring();
  const LeakSummary leak =
      leak_of(ring, [](double degrees) { return degrees < 11 || degrees > 349; });
  REQUIRE(leak.segments.size() == 1);
  // 2.5 degrees a station: nine of them.
  CHECK(leak.segments.front().length_mm ==
        Approx(9 * ring.mask.rim.perimeter_mm / ring_stations).epsilon(1e-9));
  CHECK(leak.segments.front().site == SidedSite{Site::nasal_bridge, Side::midline});
  CHECK((leak.segments.front().towards - Vec3(0, 1, 0)).norm() < 1e-6);
}

TEST_CASE("A leak is cut where the site changes") {
  Ring ring = oronasal_ring();
  const LeakSummary leak =
      leak_of(ring, [](double degrees) { return degrees < 60 || degrees > 300; });
  REQUIRE(leak.segments.size() == 3);
  const auto has = [&](SidedSite site) {
    return std::count_if(leak.segments.begin(), leak.segments.end(),
                         [&](const LeakSegment& segment) { return segment.site == site; });
  };
  CHECK(has({Site::nasal_bridge, Side::midline}) == 1);
  CHECK(has({Site::nose_side, Side::left}) == 1);
  CHECK(has({Site::nose_side, Side::right}) == 1);
}

TEST_CASE("A leak all round is cut at every site and loses no station") {
  Ring ring = oronasal_ring();
  const LeakSummary leak = leak_of(ring, [](double) { return true; });
  CHECK(leak.segments.size() == 8);
  double length = 0;
  double flow = 0;
  for (const LeakSegment& segment : leak.segments) {
    length += segment.length_mm;
    flow += segment.flow;
  }
  CHECK(length == Approx(ring.mask.rim.perimeter_mm).epsilon(1e-12));
  CHECK(flow == Approx(leak.total).epsilon(1e-12));
}

TEST_CASE("Jets at the eyes come first, then the largest") {
  Ring ring = oronasal_ring();
  const LeakSummary leak = leak_of(ring, [](double degrees) {
    return std::abs(degrees - 45) < 3 || std::abs(degrees - 90) < 7 || std::abs(degrees - 180) < 12;
  });
  REQUIRE(leak.segments.size() == 3);
  CHECK(leak.segments[0].direction == JetDirection::left_eye);
  CHECK(leak.segments[1].direction == JetDirection::jawline);
  CHECK(leak.segments[2].direction == JetDirection::cheek);
  CHECK(leak.segments[0].flow < leak.segments[2].flow);
  CHECK(leak.segments[2].flow < leak.segments[1].flow);
}

TEST_CASE("A sealed rim has no segments and no leak") {
  Ring ring = oronasal_ring();
  const LeakSummary leak = leak_of(ring, [](double) { return false; });
  CHECK(leak.segments.empty());
  CHECK(leak.total == 0);
}
