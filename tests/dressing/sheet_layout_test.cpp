#include "dressing/sheet_layout.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "catch.hpp"

using namespace rimload;

namespace {

const CutRule rule = usual_cut_rule();

Polygon rectangle(double width, double height) {
  return {{-width / 2, -height / 2},
          {width / 2, -height / 2},
          {width / 2, height / 2},
          {-width / 2, height / 2}};
}

Polygon placed_outline(const Polygon& outline, const PlacedPiece& at) {
  return shifted(rotated(outline, at.turn_rad), at.shift);
}

void check_layout(const std::vector<Polygon>& outlines, const SheetSold& sheet,
                  const SheetLayout& layout) {
  for (std::size_t k = 0; k < outlines.size(); ++k) {
    const auto times = std::count_if(layout.placed.begin(), layout.placed.end(),
                                     [&](const PlacedPiece& each) { return each.piece == k; });
    const auto refused = std::count(layout.too_large.begin(), layout.too_large.end(), k);
    CHECK(times + refused == 1);
  }
  constexpr double rounding = 1e-9;
  for (const PlacedPiece& a : layout.placed) {
    const Polygon outline = placed_outline(outlines[a.piece], a);
    const Extent extent = extent_of(outline);
    CHECK(a.sheet < layout.n_sheets);
    CHECK(extent.low.minCoeff() >= rule.sheet_margin_mm - rounding);
    CHECK(extent.high.x() <= sheet.length_mm - rule.sheet_margin_mm + rounding);
    CHECK(extent.high.y() <= sheet.width_mm - rule.sheet_margin_mm + rounding);
    for (const PlacedPiece& b : layout.placed) {
      if (b.piece >= a.piece || b.sheet != a.sheet) continue;
      const Polygon other = placed_outline(outlines[b.piece], b);
      for (const Vec2& point : other) {
        CHECK(border_distance(outline, point) >= rule.between_pieces_mm - rounding);
        CHECK(winding_number(outline, point) == 0);
      }
    }
  }
}

}  // namespace

TEST_CASE("Pieces lie on their sheets whole, apart and once each") {
  std::vector<Polygon> outlines;
  for (int k = 0; k < 17; ++k) outlines.push_back(rectangle(12 + 7 * (k % 5), 10 + 3 * (k % 4)));
  for (const bool grain : {false, true}) {
    const SheetSold sheet{100, 60, grain};
    const SheetLayout layout = lay_out(outlines, sheet, rule, 8);
    CHECK(layout.too_large.empty());
    check_layout(outlines, sheet, layout);
    // Their boxes with the gaps fill more than half of the sheets.
    double area = 0;
    for (const Polygon& outline : outlines) {
      area += (extent_of(outline).size() + Vec2::Constant(rule.between_pieces_mm)).prod();
    }
    CHECK(area > 0.5 * static_cast<double>(layout.n_sheets - 1) * 100 * 60);
  }
}

TEST_CASE("No sheet holds more pieces than allowed") {
  const std::vector<Polygon> outlines(7, rectangle(5, 5));
  const SheetLayout layout = lay_out(outlines, {100, 100}, rule, 3);
  CHECK(layout.n_sheets == 3);
  std::array<int, 3> on{};
  for (const PlacedPiece& each : layout.placed) ++on.at(each.sheet);
  CHECK(on == std::array{3, 3, 1});
}

TEST_CASE("A piece that fits upright stays upright, one that doesn't is turned") {
  const std::vector<Polygon> outlines{rectangle(30, 20), rectangle(20, 55)};
  const SheetLayout layout = lay_out(outlines, {80, 50}, rule, 8);
  REQUIRE(layout.placed.size() == 2);
  CHECK(layout.placed[0].turn_rad == 0);
  CHECK(layout.placed[1].turn_rad == Approx(std::numbers::pi / 2));
  check_layout(outlines, {80, 50}, layout);
}

TEST_CASE("A slanting band is turned to take up less of the sheet") {
  const std::vector<Polygon> outlines{rotated(rectangle(60, 10), std::numbers::pi / 4)};
  const SheetLayout layout = lay_out(outlines, {100, 100}, rule, 8);
  REQUIRE(layout.placed.size() == 1);
  const Vec2 size = extent_of(placed_outline(outlines[0], layout.placed[0])).size();
  CHECK(size.minCoeff() == Approx(10));
  CHECK(size.maxCoeff() == Approx(60));
}

TEST_CASE("With a grain every piece lies with up along the sheet's length") {
  const std::vector<Polygon> outlines{rectangle(30, 20), rotated(rectangle(60, 10), 0.7)};
  const SheetLayout layout = lay_out(outlines, {100, 100, true}, rule, 8);
  REQUIRE(layout.placed.size() == 2);
  for (const PlacedPiece& each : layout.placed) {
    const Vec2 up = Eigen::Rotation2Dd(each.turn_rad) * Vec2::UnitY();
    CHECK((up - Vec2::UnitX()).norm() < 1e-12);
  }
}

TEST_CASE("A piece larger than the sheet is named, and the others are laid out") {
  const std::vector<Polygon> outlines{rectangle(30, 20), rectangle(61, 61), rectangle(10, 10)};
  const SheetLayout layout = lay_out(outlines, {64, 64}, rule, 8);
  CHECK(layout.too_large == std::vector<std::size_t>{1});  // 64 less a margin of 2 on each side
  check_layout(outlines, {64, 64}, layout);
  CHECK(lay_out(std::vector<Polygon>{rectangle(60, 60)}, {64, 64}, rule, 8).too_large.empty());
  // With a grain it may not be turned to fit.
  const std::vector<Polygon> tall{rectangle(50, 20)};
  CHECK(lay_out(tall, {60, 40, false}, rule, 8).too_large.empty());
  CHECK(lay_out(tall, {60, 40, true}, rule, 8).too_large.size() == 1);
}

TEST_CASE("Nothing to lay out takes no sheet") {
  CHECK(lay_out({}, {100, 100}, rule, 8).n_sheets == 0);
}
