#include <cmath>

#include "catch.hpp"
#include "report/label_layout.hpp"

namespace rimload {
namespace {

const Box left{0, 100, 200, 700};
const Box right{800, 100, 1000, 700};
constexpr double gap = 10;
constexpr double middle = 500;

LabelLayout place(const std::vector<LabelWish>& wishes) {
  return place_labels(wishes, left, right, gap, middle);
}

TEST_CASE("A label that is alone stands beside its place") {
  const LabelLayout layout = place({{{300, 400}, 60}});
  REQUIRE(layout.places.size() == 1);
  CHECK(layout.places[0].column == Column::left);
  CHECK(layout.places[0].top_px == Approx(370));
}

TEST_CASE("Two labels for one height share the distance") {
  const LabelLayout layout = place({{{300, 400}, 60}, {{350, 400}, 60}});
  REQUIRE(layout.places.size() == 2);
  CHECK(layout.places[0].top_px == Approx(335));
  CHECK(layout.places[1].top_px == Approx(405));
}

TEST_CASE("Labels keep their distance and stay in their column however crowded") {
  std::vector<LabelWish> wishes;
  for (int k = 0; k < 30; ++k) {
    wishes.push_back(
        {{500 + 180 * std::sin(2.1 * k), 400 + 280 * std::sin(0.7 * k)}, k % 3 == 0 ? 30.0 : 62.0});
  }
  const LabelLayout layout = place(wishes);
  CHECK(layout.places.size() + layout.left_out.size() == wishes.size());
  CHECK(layout.places.size() > 14);
  for (const LabelPlace& a : layout.places) {
    const double bottom = a.top_px + wishes[a.wish].height_px;
    CHECK(a.top_px >= 100 - 1e-9);
    CHECK(bottom <= 700 + 1e-9);
    for (const LabelPlace& b : layout.places) {
      if (a.wish == b.wish || a.column != b.column || b.top_px < a.top_px) continue;
      CHECK(b.top_px - bottom >= gap - 1e-9);
    }
  }
}

TEST_CASE("The first wishes are the last to be left out") {
  const std::vector<LabelWish> wishes(40, LabelWish{{300, 400}, 60});
  const LabelLayout layout = place(wishes);
  REQUIRE_FALSE(layout.left_out.empty());
  for (const LabelPlace& label : layout.places) CHECK(label.wish < layout.left_out.front());
}

TEST_CASE("Leaders of one column do not cross where another order avoids it") {
  // By height alone the far label would come first and its leader would cross the other's.
  const LabelLayout layout =
      place({{{480, 395}, 60}, {{220, 400}, 60}, {{470, 410}, 60}, {{230, 390}, 60}});
  const auto cross = [](const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
    const auto turn = [](const Vec2& p, const Vec2& q, const Vec2& r) {
      return (q.x() - p.x()) * (r.y() - p.y()) - (q.y() - p.y()) * (r.x() - p.x());
    };
    return turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;
  };
  const std::array<Vec2, 4> anchor{Vec2(480, 395), Vec2(220, 400), Vec2(470, 410), Vec2(230, 390)};
  REQUIRE(layout.places.size() == 4);
  for (std::size_t i = 0; i < 4; ++i) {
    for (std::size_t j = i + 1; j < 4; ++j) {
      const LabelPlace& a = layout.places[i];
      const LabelPlace& b = layout.places[j];
      CHECK_FALSE(
          cross({200, a.top_px + 30}, anchor[a.wish], {200, b.top_px + 30}, anchor[b.wish]));
    }
  }
}

TEST_CASE("Labels of the midline even the columns out") {
  const LabelLayout layout =
      place({{{500, 200}, 60}, {{500, 300}, 60}, {{500, 400}, 60}, {{500, 500}, 60}});
  int n_left = 0;
  for (const LabelPlace& label : layout.places) n_left += label.column == Column::left ? 1 : 0;
  CHECK(n_left == 2);
}

}  // namespace
}  // namespace rimload
