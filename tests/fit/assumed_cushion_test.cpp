// What is assumed of a cushion widens the bands, by numbers.
#include "fit/assumed_cushion.hpp"

#include <algorithm>

#include "case/mask_of_case.hpp"
#include "catch.hpp"
#include "fit/bands.hpp"
#include "fit/fit.hpp"
#include "stored_case.hpp"

using namespace rimload;

namespace {

Cushion assuming(std::vector<CushionField> fields) {
  Cushion out = case_of({}).cushion;
  out.assumed = std::move(fields);
  return out;
}

// 10 to 90 % of the hardest pressed site, and what moves it.
struct Spread {
  double low, high;
  std::vector<DriverShare> drivers;
};
Spread spread_of(std::vector<CushionField> fields) {
  Case input = demo_case("first-fit");
  input.cushion.assumed = std::move(fields);
  const Estimate banded = with_bands(estimate_fit(input), {.n_draws = 40, .n_threads = 2});
  const auto& sites = banded.bands->sites;
  const auto worst = std::max_element(
      sites.begin(), sites.end(),
      [](const SiteBand& a, const SiteBand& b) { return a.sensor.median < b.sensor.median; });
  return {worst->sensor.low, worst->sensor.high, banded.bands->drivers};
}

}  // namespace

TEST_CASE("a cushion with nothing assumed is the same in every draw") {
  AssumedFractions ends{};
  const Cushion plain = assuming({});
  const Cushion moved = with_assumed(plain, ends);
  CHECK(moved.rim.controls[3].position_mask == plain.rim.controls[3].position_mask);
  CHECK(moved.lip.travel_mm == plain.lip.travel_mm);
  CHECK(moved.apex_below_sellion_mm == plain.apex_below_sellion_mm);
}

TEST_CASE("each assumed field moves what it names, and nothing else") {
  AssumedFractions low{};
  const Cushion plain = assuming({});
  const Cushion deep = with_assumed(assuming({CushionField::rim_depth}), low);
  CHECK(deep.rim.controls[3].position_mask.z() ==
        Approx(0.85 * plain.rim.controls[3].position_mask.z()));
  CHECK(deep.rim.controls[3].position_mask.x() == plain.rim.controls[3].position_mask.x());
  CHECK(with_assumed(assuming({CushionField::travel}), low).lip.travel_mm ==
        Approx(0.6 * plain.lip.travel_mm));
  CHECK(with_assumed(assuming({CushionField::placement}), low).apex_below_sellion_mm ==
        Approx(plain.apex_below_sellion_mm - 3));
  CHECK(with_assumed(assuming({CushionField::straps}), low).straps[0].anchor_mask.y() ==
        Approx(plain.straps[0].anchor_mask.y() - 8));
  CHECK(with_assumed(assuming({CushionField::gas_share}), low).lip.gas_share ==
        Approx(plain.lip.gas_share - 0.3));
}

TEST_CASE("an assumed stiffness draws the lip from the wider range, at the same fraction") {
  Case known = case_of({});
  Case assumed = known;
  assumed.cushion.assumed = {CushionField::stiffness};
  const double catalogued = known.cushion.lip.stiffness_n_mm3;
  UncertainInputs draw;
  draw.lip_factor = 0.8;  // the low end of a catalogued lip
  CHECK(with_inputs(make_mask(with_inputs(known, draw)), draw).lip.stiffness_n_mm3 ==
        Approx(0.8 * catalogued));
  CHECK(with_inputs(make_mask(with_inputs(assumed, draw)), draw).lip.stiffness_n_mm3 ==
        Approx(0.4 * catalogued));
  draw.lip_factor = 1;  // the middle of both
  CHECK(with_inputs(make_mask(with_inputs(assumed, draw)), draw).lip.stiffness_n_mm3 ==
        Approx(catalogued));
}

TEST_CASE("assumed fields widen the band of the hardest pressed site, and are named as drivers") {
  const Spread known = spread_of({});
  const Spread one = spread_of({CushionField::rim_depth});
  const Spread all =
      spread_of({CushionField::rim_depth, CushionField::lip_width, CushionField::stiffness,
                 CushionField::travel, CushionField::gas_share, CushionField::placement,
                 CushionField::straps, CushionField::mass});
  CAPTURE(known.low, known.high, one.low, one.high, all.low, all.high);
  // Measured: 60 to 90 mmHg known, 44 to 95 with the rim's depth assumed, 41 to 99 with all of it;
  // 1.67 and 1.90 times as wide.
  CHECK(one.high - one.low > 1.4 * (known.high - known.low));
  CHECK(all.high - all.low > 1.6 * (known.high - known.low));
  CHECK(known.drivers.size() == all_drivers.size());
  CHECK(one.drivers.size() == all_drivers.size() + 1);
  CHECK(all.drivers.size() == all_drivers.size() + 7);  // the lip's own is among the six
}
