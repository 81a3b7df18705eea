#include "geometry/site.hpp"

#include <cmath>
#include <numbers>
#include <set>

#include "catch.hpp"
#include "stored_face.hpp"
#include "units/error.hpp"

using namespace rimload;

TEST_CASE("every landmark of every stored face maps to a site") {
  std::set<Site> met;
  for (const char* name : face_names) {
    for (const Landmark& landmark : stored_face(name).landmarks) {
      CHECK_NOTHROW(site_of_landmark(landmark.name));
      met.insert(site_of_landmark(landmark.name));
    }
  }
  // All that a rim can press have a landmark; those under straps alone have none.
  CHECK(met == std::set<Site>(contact_sites.begin(), contact_sites.end()));
}

TEST_CASE("a landmark without a site is refused by name") {
  CHECK_THROWS_AS(site_of_landmark("antitragus"), InputError);
}

TEST_CASE("a landmark lies in its own site, on its own side") {
  const FaceModel face = stored_face("reference");
  const SiteFinder find(face.landmarks);
  for (const Landmark& landmark : face.landmarks) {
    const SidedSite found = find(landmark.position_face);
    CHECK(found.site == site_of_landmark(landmark.name));
    if (is_midline(found.site)) {
      CHECK(found.side == Side::midline);
    } else if (landmark.side != Side::midline) {
      CHECK(found.side == landmark.side);
    }
  }
}

TEST_CASE("a walk over the face meets the sites that its points have one by one") {
  const FaceModel face = stored_face("reference");
  const SiteFinder find(face.landmarks);
  SiteFinder::Walk walk(find);
  std::set<Site> met;
  // Turns of a spiral over nose, cheeks and chin, in steps of a millimetre or so, and a leap back.
  for (const double turns : {7.0, 3.0}) {
    for (int k = 0; k < 4000; ++k) {
      const double part = k / 4000.0;
      const double angle = 2 * std::numbers::pi * turns * part;
      const Vec3 point(60 * part * std::cos(angle), -55 + 60 * part * std::sin(angle), 10);
      const SidedSite expected = find(point);
      met.insert(expected.site);
      REQUIRE(walk(point) == expected);
    }
  }
  CHECK(met.size() >= 6);
}

TEST_CASE("every site has a name that finds it again") {
  for (const Site site : contact_sites) CHECK(site_named(name_of(site)) == site);
  for (const Site site : strap_sites) CHECK(site_named(name_of(site)) == site);
  CHECK(!site_named("elbow"));
}
