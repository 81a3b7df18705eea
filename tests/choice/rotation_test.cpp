#include "choice/rotation.hpp"

#include <algorithm>

#include "catch.hpp"
#include "stored_case.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

const SizeChoice& demonstration() {
  static const SizeChoice choice = choose_size(case_of({}), {.n_draws = 0, .n_threads = 2});
  return choice;
}

const std::vector<RotationPair>& pairs() {
  static const std::vector<RotationPair> out = rotation_pairs(demonstration());
  return out;
}

// A round face of radius 92 mm, whose chart keeps lengths.
const SkinMap& cylinder() {
  static const SkinMap skin = [] {
    const GridFrame frame = SkinMap::usual_frame(1);
    const auto n = static_cast<std::size_t>(frame.n_u) * static_cast<std::size_t>(frame.n_v);
    const BicubicGrid<1>::Values radius(SkinMap::chart_radius_mm);
    return SkinMap(BicubicGrid<1>(frame, std::vector<BicubicGrid<1>::Values>(n, radius),
                                  BicubicGrid<1>::Kind::interpolating));
  }();
  return skin;
}

const SiteFinder& site_of() {
  static const SiteFinder finder(case_of({}).face.landmarks);
  return finder;
}

// A pad of the chart, middle to middle of its cells 1 mm apart, evenly pressed.
struct Pad {
  double left_mm = 0, bottom_mm = 0;
  int wide = 10, tall = 20;
  double pressure = 0.01;
};
std::vector<ContactSample> samples_of(const Pad& pad) {
  std::vector<ContactSample> out;
  for (int row = 0; row < pad.tall; ++row) {
    for (int k = 0; k < pad.wide; ++k) {
      ContactSample sample;
      sample.part = Part::pad;
      sample.station = row;
      sample.across = k;
      sample.foot = cylinder().point({pad.left_mm + k + 0.5, pad.bottom_mm + row + 0.5});
      sample.area_mm2 = 1;
      sample.pressure = pad.pressure;
      out.push_back(sample);
    }
  }
  return out;
}
LoadedSkin loaded(const Pad& pad, double above = 0.005) {
  return loaded_skin(samples_of(pad), {cylinder(), site_of()}, above);
}

const SizeCandidate& candidate(const std::string& name, const std::string& size) {
  const auto& all = demonstration().candidates;
  const auto found = std::find_if(all.begin(), all.end(), [&](const SizeCandidate& each) {
    return each.cushion.name == name && each.cushion.size == size;
  });
  REQUIRE(found != all.end());
  REQUIRE(found->estimate);
  return *found;
}

LoadedSkin first_phase(const Estimate& estimate) {
  return loaded_skin(estimate.phases.front().on_skin, {estimate.face.skin, estimate.face.site_of},
                     usual_rotation_rule().pressed_above);
}

double at_site(const SharedSkin& shared, Site site) {
  double out = 0;
  for (const auto& [place, area] : shared.by_site) out += place.site == site ? area : 0;
  return out;
}

}  // namespace

// Squares of 0.5 mm whose borders are those of the pads: exact but for the chords of the cylinder,
// which are (0.5/92)^2/24 shorter than its arcs.
constexpr double chord = 1e-5;

TEST_CASE("skin that two pads of 10 by 20 mm load, 4 mm apart, is 6 by 20 mm, three fifths") {
  const LoadedSkin one = loaded({.left_mm = -5});
  const LoadedSkin other = loaded({.left_mm = -1});
  CHECK(one.area_mm2() == Approx(200).epsilon(chord));
  const SharedSkin shared = shared_skin(one, other);
  CHECK(shared.area_mm2 == Approx(120).epsilon(chord));
  CHECK(shared.share == Approx(0.6).epsilon(chord));
}

TEST_CASE("the share is of the smaller area: a small pad within a large one shares all of it") {
  const LoadedSkin large = loaded({.left_mm = -5, .bottom_mm = -20});
  const LoadedSkin small = loaded({.left_mm = -2, .bottom_mm = -15, .wide = 4, .tall = 5});
  CHECK(shared_skin(large, small).area_mm2 == Approx(20).epsilon(chord));
  CHECK(shared_skin(large, small).share == Approx(1));
}

TEST_CASE("pads that don't meet share nothing, and neither does one pressed too little to count") {
  const LoadedSkin one = loaded({.left_mm = -30});
  CHECK(shared_skin(one, loaded({.left_mm = 10})).share == 0);
  CHECK(shared_skin(one, loaded({.left_mm = -20})).area_mm2 == 0);  // side by side
  const LoadedSkin faint = loaded({.left_mm = -30, .pressure = 0.004});
  CHECK(faint.cells.empty());
  CHECK(shared_skin(one, faint).share == 0);
}

TEST_CASE("a mask shares all of its skin with itself") {
  const LoadedSkin skin = first_phase(*candidate("demo-oronasal", "M").estimate);
  REQUIRE(skin.area_mm2() > 500);
  CHECK(shared_skin(skin, skin).share == 1);
  CHECK(united(skin, skin).area_mm2() == skin.area_mm2());
}

TEST_CASE("the loaded skin has about the area of the samples that load it") {
  const Estimate& estimate = *candidate("demo-oronasal", "M").estimate;
  double area = 0;
  for (const ContactSample& sample : estimate.phases.front().on_skin) {
    if (sample.pressure > usual_rotation_rule().pressed_above) area += sample.area_mm2;
  }
  // A sample's own area is that of the lip; the skin beneath it is curved and leans otherwise.
  CHECK(first_phase(estimate).area_mm2() == Approx(area).epsilon(0.15));
}

TEST_CASE("what two share does not depend on their order") {
  const LoadedSkin a = first_phase(*candidate("demo-oronasal", "M").estimate);
  const LoadedSkin b = first_phase(*candidate("demo-nasal", "M").estimate);
  const SharedSkin ab = shared_skin(a, b);
  const SharedSkin ba = shared_skin(b, a);
  CHECK(ab.area_mm2 == ba.area_mm2);
  CHECK(ab.share == ba.share);
  CHECK(ab.by_site == ba.by_site);
}

TEST_CASE("mirrored samples share as much") {
  const auto mirrored = [](std::vector<ContactSample> samples) {
    for (ContactSample& sample : samples) sample.foot.x() = -sample.foot.x();
    return samples;
  };
  const Estimate& a = *candidate("demo-oronasal", "M").estimate;
  const Estimate& b = *candidate("demo-nasal", "M").estimate;
  const double above = usual_rotation_rule().pressed_above;
  const SkinUnder under{a.face.skin, a.face.site_of};
  const SharedSkin as_is = shared_skin(first_phase(a), first_phase(b));
  const SharedSkin turned =
      shared_skin(loaded_skin(mirrored(a.phases.front().on_skin), under, above),
                  loaded_skin(mirrored(b.phases.front().on_skin), under, above));
  REQUIRE(as_is.area_mm2 > 0);
  // A square whose middle lies on a cell's border can fall either way: some of about 2000.
  CHECK(turned.area_mm2 == Approx(as_is.area_mm2).epsilon(0.01));
}

TEST_CASE("below the nose and over it share less at the bridge than two over the nose") {
  const LoadedSkin over = first_phase(*candidate("demo-oronasal", "M").estimate);
  const LoadedSkin nasal = first_phase(*candidate("demo-nasal", "M").estimate);
  const LoadedSkin below = first_phase(*candidate("demo-below-nose", "M").estimate);
  CHECK(at_site(shared_skin(over, nasal), Site::nasal_bridge) > 5);
  CHECK(at_site(shared_skin(over, below), Site::nasal_bridge) == 0);
}

TEST_CASE("pairs are of cushions that fit, of other names, the least share first") {
  REQUIRE(pairs().size() >= 3);
  const RotationRule& rule = usual_rotation_rule();
  for (std::size_t k = 0; k < pairs().size(); ++k) {
    const RotationPair& pair = pairs()[k];
    const SizeCandidate& first = demonstration().candidates[pair.first];
    const SizeCandidate& second = demonstration().candidates[pair.second];
    CHECK(first.fits);
    CHECK(second.fits);
    CHECK(first.cushion.name != second.cushion.name);
    CHECK(pair.shared.area_mm2 <= std::min(pair.first_mm2, pair.second_mm2));
    CHECK(pair.worst == std::max(first.worst.sensor, second.worst.sensor));
    if (k == 0) continue;
    const RotationPair& before = pairs()[k - 1];
    CHECK(pair.shared.share > before.shared.share - rule.share_step);
    if (before.shared.share == pair.shared.share) CHECK(before.worst <= pair.worst);
  }
}

TEST_CASE("the best pair stays the best with half and twice the pressure that counts") {
  for (const double factor : {0.5, 2.0}) {
    RotationRule rule = usual_rotation_rule();
    rule.pressed_above *= factor;
    const auto other = rotation_pairs(demonstration(), rule);
    REQUIRE_FALSE(other.empty());
    CHECK(other.front().first == pairs().front().first);
    CHECK(other.front().second == pairs().front().second);
  }
}
