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

TEST_CASE("a point on the midline goes to one side, however it is rounded") {
  const FaceModel face = stored_face("reference");
  const SiteFinder find(face.landmarks);
  const Vec3 tip = find_landmark(face.landmarks, "pronasale", Side::midline).position_face;
  for (const double rounding : {-1e-12, 0.0, 1e-12}) {
    const SidedSite found = find(tip + Vec3(rounding, 0, 0));
    CHECK(found == SidedSite{Site::nose_side, Side::left});
  }
  CHECK(find(tip - Vec3(0.01, 0, 0)).side == Side::right);
}

TEST_CASE("the site of a point is that of its nearest landmark, of a lid's only close to it") {
  const FaceModel face = stored_face("reference");
  const SiteFinder find(face.landmarks);
  std::set<Site> met;
  int n_beyond_a_lid = 0;
  // A spiral over nose, cheeks and chin, and off the face.
  for (int k = 0; k < 4000; ++k) {
    const double part = k / 4000.0;
    const double angle = 2 * std::numbers::pi * 7 * part;
    const Vec3 point(120 * part * std::cos(angle), -55 + 120 * part * std::sin(angle), 10);
    double least = 1e9;
    Site expected{};
    for (const Landmark& landmark : face.landmarks) {
      const double distance = (landmark.position_face - point).norm();
      const Site site = site_of_landmark(landmark.name);
      if (site == Site::eyelid && distance >= 9) {  // mm, as the table says
        n_beyond_a_lid += distance < least ? 1 : 0;
        continue;
      }
      if (distance < least) {
        least = distance;
        expected = site;
      }
    }
    met.insert(expected);
    REQUIRE(find(point).site == expected);
  }
  CHECK(met.size() >= 6);
  CHECK(n_beyond_a_lid > 0);
}

TEST_CASE("the skin of the lids lies within reach of their landmarks") {
  for (const char* name : face_names) {
    const FaceModel face = stored_face(name);
    const SiteFinder find(face.landmarks);
    const auto at = [&](const char* landmark) {
      return find_landmark(face.landmarks, landmark, Side::left).position_face;
    };
    for (const auto& [from, to] :
         {std::pair{"endocanthion", "lid_front"}, std::pair{"lid_front", "exocanthion"},
          std::pair{"endocanthion", "lid_lower"}, std::pair{"lid_lower", "exocanthion"},
          std::pair{"lid_front", "lid_lower"}}) {
      CAPTURE(name, from, to);
      for (const double share : {0.25, 0.5, 0.75}) {
        const Vec3 between = (1 - share) * at(from) + share * at(to);
        CHECK(find(between) == SidedSite{Site::eyelid, Side::left});
      }
    }
    CHECK(find(at("exocanthion") + Vec3(5, 0, -8)).site != Site::eyelid);  // the temple
  }
}

TEST_CASE("every site has a name that finds it again") {
  for (const Site site : contact_sites) CHECK(site_named(name_of(site)) == site);
  for (const Site site : strap_sites) CHECK(site_named(name_of(site)) == site);
  CHECK(!site_named("elbow"));
}
