#include "choice/size_guide.hpp"

#include "case/design_face.hpp"
#include "catch.hpp"
#include "geometry/rim_outline.hpp"
#include "stored_case.hpp"

using namespace rimload;

namespace {

const std::vector<Cushion>& demo_cushions() {
  static const std::vector<Cushion> cushions = case_of({}).catalogue;
  return cushions;
}

}  // namespace

TEST_CASE("a demonstration cushion goes with the face that it was moulded to, by every dimension") {
  int n = 0;
  for (const Cushion& cushion : demo_cushions()) {
    const FaceModel face = design_face_of(cushion);
    for (const SizeGuideRule& rule : size_guide(cushion.type)) {
      CAPTURE(cushion.name, cushion.size, name_of(rule.measure));
      const auto range = range_for(rule, cushion);
      REQUIRE(range);
      const double own = measure(face.landmarks, rule.measure);
      CHECK(own >= range->low_mm);
      CHECK(own <= range->high_mm);
      ++n;
    }
  }
  CHECK(n >= 20);
}

TEST_CASE("a larger size goes with larger dimensions, and neighbours leave no gap above 1 mm") {
  const auto& all = demo_cushions();
  for (std::size_t k = 1; k < all.size(); ++k) {
    if (all[k].name != all[k - 1].name) continue;
    for (const SizeGuideRule& rule : size_guide(all[k].type)) {
      const MeasureRange small = range_for(rule, all[k - 1]).value();
      const MeasureRange large = range_for(rule, all[k]).value();
      CHECK(large.low_mm > small.low_mm);
      CHECK(large.high_mm > small.high_mm);
      CHECK(large.low_mm - small.high_mm < 1);
    }
  }
}

TEST_CASE("the range of a breadth is the opening's width less the room beside it, by hand") {
  const Cushion& cushion = demo_cushions().at(1);
  const SizeGuideRule rule{Measure::nose_breadth, SizeRoom::room_beside, 4, 8};
  const RimOutline inner(cushion.rim, RimEdge::inner);
  // The reference face's alare lies 44 mm below its sellion, the apex 8 mm.
  const double width = inner.width_mm(-36).value();
  CHECK(range_for(rule, cushion)->low_mm == Approx(width - 16).margin(1e-9));
  CHECK(range_for(rule, cushion)->high_mm == Approx(width - 8).margin(1e-9));
  const SizeGuideRule height{Measure::sellion_supramentale, SizeRoom::bottom_below, 1, 8};
  // Its lowest point lies 83 mm below the apex.
  CHECK(range_for(height, cushion)->low_mm == Approx(83).margin(0.01));
  CHECK(range_for(height, cushion)->high_mm == Approx(90).margin(0.01));
}

TEST_CASE("where a rim does not reach the nose there is no range of its breadth") {
  for (const Cushion& cushion : demo_cushions()) {
    if (cushion.type != CushionType::below_nose_oronasal) continue;
    CHECK_FALSE(range_for({Measure::nose_breadth, SizeRoom::room_beside, 4, 8}, cushion));
  }
}
