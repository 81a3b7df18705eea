#include "dressing/template.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "catch.hpp"
#include "dressing/skin_shapes.hpp"
#include "dressing/template_cuts.hpp"
#include "fit/fit.hpp"
#include "stored_case.hpp"

using namespace rimload;

namespace {

constexpr double pi = std::numbers::pi;

const CutRule rule = usual_cut_rule();

// A fan of facets about an apex, slit along its first edge, rim at 10 mm: the facets' angles add up
// to `turn`, so that it is a cone where that is less than a full turn and a ruff where it is more.
CutPatch slit_fan(int n_facets, double turn) {
  // Rim points alternate up and down where a plain cone has not enough room.
  const double facet = turn / n_facets;
  const double around = 2 * pi / n_facets;
  const auto facet_of = [&](double rise) {
    const Vec3 a(std::cos(rise), 0, std::sin(rise));
    const double other = turn < 2 * pi ? rise : -rise;
    const Vec3 b(std::cos(other) * std::cos(around), std::cos(other) * std::sin(around),
                 std::sin(other));
    return std::acos(a.dot(b));
  };
  double low = 0;
  double high = pi / 2;
  for (int step = 0; step < 100; ++step) {
    const double rise = 0.5 * (low + high);
    const bool too_much = turn < 2 * pi ? facet_of(rise) < facet : facet_of(rise) > facet;
    (too_much ? high : low) = rise;
  }
  CutPatch out;
  SkinPatch& patch = out.patch;
  patch.uv.emplace_back(0, 0);
  patch.mesh.vertices.emplace_back(0, 0, 0);
  for (int k = 0; k <= n_facets; ++k) {
    const double angle = around * k;
    const double rise = turn < 2 * pi || k % 2 == 0 ? low : -low;
    patch.uv.emplace_back(k == n_facets ? Vec2(10, 0)
                                        : Vec2(10 * std::cos(angle), 10 * std::sin(angle)));
    patch.mesh.vertices.emplace_back(10 * std::cos(rise) * std::cos(angle),
                                     10 * std::cos(rise) * std::sin(angle), 10 * std::sin(rise));
  }
  for (std::uint32_t k = 1; k <= static_cast<std::uint32_t>(n_facets); ++k) {
    patch.mesh.triangles.push_back({0, k, k + 1});
  }
  patch.border = border_of(patch.mesh.triangles);
  out.flat = flatten(patch.mesh);
  out.slits = {{{10, 0}, {0, 0}}};
  return out;
}

}  // namespace

TEST_CASE("A cone slit to its apex opens by the angle that it lacks") {
  for (const double turn : {1.2 * pi, 1.6 * pi, 1.95 * pi}) {
    CAPTURE(turn);
    const CutPatch cone = slit_fan(16, turn);
    CHECK(stretch_of(cone.flat, 0).most() < 1e-8);
    const SlitBanks banks = banks_of(cone, cone.slits.front());
    REQUIRE(banks.left.size() == 2);
    // The chord between the banks' ends, 10 mm from the tip.
    CHECK(banks.opening_mm ==
          Approx(std::copysign(20 * std::sin(0.5 * (2 * pi - turn)), 2 * pi - turn)).margin(1e-6));
  }
}

TEST_CASE("A ruff slit to its middle overlaps by the angle that it has too much") {
  const CutPatch ruff = slit_fan(16, 2.1 * pi);
  CHECK(stretch_of(ruff.flat, 0).most() < 1e-8);
  const SlitBanks banks = banks_of(ruff, ruff.slits.front());
  CHECK(banks.opening_mm == Approx(-20 * std::sin(0.05 * pi)).margin(1e-6));
}

TEST_CASE("A band on a cylinder is cut as its unrolled rectangle, corners rounded") {
  const SkinMap skin = cylinder_skin(40);
  const double scale = 40 / SkinMap::chart_radius_mm;  // of arcs against the chart's
  const TemplatePiece piece = make_template(skin, place_on(skin, {0, 0}, {30 / scale, 20}), rule);
  CHECK(piece.cuts.empty());
  CHECK(piece.lies_flat);
  CHECK(piece.stretch.most() < 1e-4);  // chords, 1.5^2/(24 40^2)
  const Vec2 size = extent_of(piece.outline).size();
  CHECK(size.x() == Approx(30).margin(0.03));  // rounding keeps points to 0.003 mm, chords 0.002
  CHECK(size.y() == Approx(20).margin(0.03));
  const double radius = rule.corner_radius_mm;
  CHECK(signed_area(piece.outline) == Approx(600 - (4 - pi) * radius * radius).margin(1));
  CHECK((extent_of(piece.outline).low + extent_of(piece.outline).high).norm() < 1e-9);
}

TEST_CASE("A piece is upright and not mirrored: up on the wearer is y, the wearer's left is x") {
  const SkinMap skin = cylinder_skin(60);
  // A wedge of skin: wide at its top, and its long side on the wearer's left.
  DressingPlace place = place_on(skin, {0, 0}, {1, 1});
  place.outline.clear();
  const std::vector<Vec2> corners{{-10, -10}, {20, -10}, {20, 14}, {-20, 14}};
  for (const Vec2& uv : corners) place.outline.push_back(skin.point(uv));
  CutRule sharp = rule;
  sharp.corner_radius_mm = 0.5;
  const TemplatePiece piece = make_template(skin, place, sharp);
  const Extent extent = extent_of(piece.outline);
  const double scale = 60 / SkinMap::chart_radius_mm;
  // The corner that is missing is the lower right one of the wearer, at low x and low y.
  CHECK(border_distance(piece.outline, {extent.low.x() + 10 * scale, extent.low.y()}) < 0.5);
  CHECK(border_distance(piece.outline, extent.high) < 0.5);  // corners are a little round
  CHECK(border_distance(piece.outline, extent.low) > 4);
  REQUIRE(piece.midline.size() > 5);
  // The midline lies 20 mm of chart from either side above, from top to bottom.
  // Corners that were rounded off leave the extent by a little, and with it the middle.
  for (const Vec2& point : piece.midline) CHECK(point.x() == Approx(0).margin(0.4));
  CHECK(piece.midline.front().y() > piece.midline.back().y());
}

TEST_CASE("A spike of the outline, or a cut into it, is rounded away") {
  const SkinMap skin = cylinder_skin(60);
  const double scale = 60 / SkinMap::chart_radius_mm;
  DressingPlace place = place_on(skin, {0, 0}, {30, 20});
  const double plain = signed_area(make_template(skin, place, rule).outline);
  // Between two corners of the right side: out by 12 mm of chart and back, then in by 8 and back.
  std::vector<Vec3> spiked(place.outline.begin(), place.outline.begin() + 15);
  for (const Vec2& uv :
       {Vec2(15, -4), Vec2(27, -4), Vec2(15, -3.95), Vec2(15, -2), Vec2(7, -2), Vec2(15, -1.95)}) {
    spiked.push_back(skin.point(uv));
  }
  spiked.insert(spiked.end(), place.outline.begin() + 20, place.outline.end());
  place.outline = spiked;
  const TemplatePiece piece = make_template(skin, place, rule);
  CHECK(extent_of(piece.outline).size().x() == Approx(30 * scale).margin(0.1));
  CHECK(signed_area(piece.outline) == Approx(plain).epsilon(0.01));
}

TEST_CASE("A band off the midline has none") {
  const SkinMap skin = cylinder_skin(60);
  CHECK(make_template(skin, place_on(skin, {30, 0}, {20, 20}), rule).midline.empty());
}

TEST_CASE("On a dome darts are cut, and their wedges taken out") {
  const SkinMap skin = bent_skin(40, 40);                         // a sphere
  const DressingPlace place = place_on(skin, {0, 0}, {115, 50});  // 50 mm square
  CutRule uncut = rule;
  uncut.most_cuts = 0;
  const TemplatePiece plain = make_template(skin, place, uncut);
  const TemplatePiece piece = make_template(skin, place, rule);
  CHECK_FALSE(plain.lies_flat);
  REQUIRE_FALSE(piece.cuts.empty());
  CHECK(std::ssize(piece.cuts) <= rule.most_cuts);
  CHECK(piece.stretch.most() < (1 - rule.least_gain) * plain.stretch.most());
  for (const TemplateCut& cut : piece.cuts) {
    CHECK(cut.wedge_mm > 0);
    CHECK(cut.gap_mm == 0);
    CHECK(cut.left.back() == cut.right.back());
    for (const Vec2& mouth : {cut.left.front(), cut.right.front()}) {
      CHECK(border_distance(piece.outline, mouth) < 0.02);
    }
    CHECK(winding_number(piece.outline, cut.left.back()) == 1);
  }
}

TEST_CASE("On a saddle slits are cut, and open on the skin") {
  const SkinMap skin = bent_skin(20, -20);
  const DressingPlace place = place_on(skin, {0, 0}, {140, 26});  // 30 mm long, 26 mm high
  CutRule uncut = rule;
  uncut.most_cuts = 0;
  const TemplatePiece plain = make_template(skin, place, uncut);
  const TemplatePiece piece = make_template(skin, place, rule);
  CHECK_FALSE(plain.lies_flat);
  REQUIRE_FALSE(piece.cuts.empty());
  CHECK(piece.stretch.most() < plain.stretch.most());
  for (const TemplateCut& cut : piece.cuts) {
    CHECK(cut.gap_mm > 0);
    CHECK(cut.wedge_mm == 0);
    CHECK(cut.left == cut.right);
    CHECK(border_distance(piece.outline, cut.left.front()) < 0.02);
  }
}

TEST_CASE("Cuts keep apart, and one that gains too little is not made") {
  const SkinMap skin = bent_skin(40, 40);
  const DressingPlace place = place_on(skin, {0, 0}, {115, 50});
  CutRule strict = rule;
  strict.stretch_limit = 0.02;
  strict.most_cuts = 2;
  const TemplatePiece piece = make_template(skin, place, strict);
  REQUIRE(piece.cuts.size() > 1);
  for (std::size_t a = 0; a < piece.cuts.size(); ++a) {
    for (std::size_t b = 0; b < a; ++b) {
      for (const Vec2& p : piece.cuts[a].left) {
        for (const Vec2& q : piece.cuts[b].right) {
          // Apart on the skin by the rule; laid flat anew, strain moves them by a twentieth.
          CHECK((p - q).norm() > 0.9 * rule.cuts_apart_mm);
        }
      }
    }
  }
  CutRule demanding = rule;
  demanding.least_gain = 0.99;
  CHECK(make_template(skin, place, demanding).cuts.empty());
}

TEST_CASE("A cut within the margin is preferred where it is enough") {
  const Estimate estimate = estimate_fit(case_of({.rest = R"("straps": {"tension_N": 3})"}));
  const auto bridge = std::find_if(
      estimate.dressing_places.begin(), estimate.dressing_places.end(),
      [](const DressingPlace& place) { return place.site.site == Site::nasal_bridge; });
  REQUIRE(bridge != estimate.dressing_places.end());
  CutRule strict = rule;
  strict.stretch_limit = 0.03;
  const TemplatePiece piece = make_template(estimate.face.skin, *bridge, strict);
  REQUIRE_FALSE(piece.cuts.empty());
  for (const TemplateCut& cut : piece.cuts) {
    CHECK(cut.under_rim == (cut.length_mm > dressing_margin_mm + 0.5));  // chords of the outline
  }
  CHECK_FALSE(piece.cuts.front().under_rim);
}

TEST_CASE("Templates of a face: mirror images, the same bits again, within the limit") {
  const Estimate estimate = estimate_fit(case_of({.rest = R"("straps": {"tension_N": 5})"}));
  REQUIRE(estimate.dressing_places.size() > 4);
  double left_area = 0;
  double right_area = 0;
  for (const DressingPlace& place : estimate.dressing_places) {
    CAPTURE(name_of(place.site.site), name_of(place.site.side));
    const TemplatePiece piece = make_template(estimate.face.skin, place, rule);
    const TemplatePiece again = make_template(estimate.face.skin, place, rule);
    CHECK(piece.outline == again.outline);
    CHECK(piece.stretch.most() == again.stretch.most());
    CHECK(piece.lies_flat);
    CHECK(piece.stretch.most() <= rule.stretch_limit);
    // The piece is as large as the place, whose sizes run along the middle of a curved band.
    const double area = signed_area(piece.outline);
    CHECK(area == Approx(place.length_mm * place.width_mm).epsilon(0.25));
    if (place.site.side == Side::left) left_area += area;
    if (place.site.side == Side::right) right_area += area;
  }
  REQUIRE(left_area > 0);
  CHECK(left_area == Approx(right_area).epsilon(1e-3));  // meshes differ, the face does not
}
