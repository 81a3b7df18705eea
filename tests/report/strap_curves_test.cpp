#include <algorithm>

#include "case/mask_of_case.hpp"
#include "catch.hpp"
#include "fit/breath.hpp"
#include "report/strap_curves.hpp"
#include "stored_case.hpp"
#include "units/units.hpp"

namespace rimload {
namespace {

// A sweep from 1 N on in steps of 1 N: leak of each point, below 0 where the mask does not seat.
struct Swept {
  Case input = case_of({.cushion = "demo-nasal", .settings = R"({"cpap_cmH2O": 10})"});
  Mask mask = make_mask(input);
  StrapSweep sweep;

  explicit Swept(const std::vector<double>& leaks_l_min) {
    double tension = 0;
    for (const double leak : leaks_l_min) {
      tension += 1;
      StrapPoint point;
      point.upper_n = point.lower_n = tension;
      point.seated = leak >= 0;
      if (point.seated) {
        point.leak = {units::from_l_per_min(leak)};
        point.mean_leak = point.leak.front();
        for (const auto& [side, mmhg] : {std::pair{Side::left, 3.0}, {Side::right, 4.0}}) {
          SitePressure site;
          site.site = Site::cheek;
          site.side = side;
          site.sensor = units::from_mmhg(mmhg * tension);
          point.sites.push_back(site);
        }
      }
      sweep.equal.push_back(point);
    }
    sweep.window = {.seals = true,
                    .sealing_n = 2.8,
                    .upper_n = 4,
                    .upper_end = WindowEnd::user_limit,
                    .upper_site = {Site::cheek, Side::left}};
  }
  [[nodiscard]] StrapReport report() const { return {input, mask, sweep, {}}; }
};

std::size_t n_words(const std::string& text, const std::string& words) {
  return text.find(words) == std::string::npos ? 0 : 1;
}

}  // namespace

TEST_CASE("curves of the strap window break where the mask does not seat") {
  const Swept swept({-1, 30, 20, -1, -1, 12, -1});
  const StrapReport report = swept.report();
  for (const auto& curves : {pressure_curves(report), leak_curves(report)}) {
    REQUIRE(curves.size() == 1);
    REQUIRE(curves[0].stretches.size() == 2);
    CHECK(curves[0].stretches[0].size() == 2);
    CHECK(curves[0].stretches[1].size() == 1);
    CHECK(curves[0].stretches[1][0].x() == Approx(6));
  }
  CHECK(pressure_curves(report)[0].stretches[1][0].y() == Approx(24));  // the harder pressed side
  const auto ranges = unseated_ranges(report);
  const std::vector<std::pair<double, double>> meant{{0, 1.5}, {3.5, 5.5}, {6.5, 7}};
  REQUIRE(ranges.size() == meant.size());
  for (std::size_t k = 0; k < meant.size(); ++k) {
    CHECK(ranges[k].first == Approx(meant[k].first));
    CHECK(ranges[k].second == Approx(meant[k].second));
  }
  CHECK(unseated_ranges(Swept({30, 20}).report()).empty());
}

TEST_CASE("every leak curve comes into the panel, however large the leak") {
  const double limit = 24;
  const auto end = [&](const std::vector<double>& leaks) {
    return leak_axis_end(leak_curves(Swept(leaks).report()), limit);
  };
  CHECK(end({77, 77, 77.5}) >= 77.5);        // all above twice the limit
  CHECK(end({300, 90, 80}) == Approx(100));  // its lower end is shown, the rest cut off
  CHECK(end({300, 40, 4}) == Approx(48));
  CHECK(end({10, 4, 0}) == Approx(30));  // the limit itself stays in view
  CHECK(end({-1, -1}) == Approx(30));    // no curve at all
}

TEST_CASE("a window without width is called none") {
  Swept swept({30, 20, 10});
  CHECK(has_window(swept.sweep.window));
  CHECK(n_words(window_sentence(swept.report()), "Shaded: seals from 2.8 N") == 1);
  swept.sweep.window.upper_n = 2.8;
  CHECK_FALSE(has_window(swept.sweep.window));
  const std::string none = window_sentence(swept.report());
  CHECK(none.starts_with("No window: "));
  CHECK(n_words(none, "2.8 N") == 1);
  CHECK(n_words(none, "cheek (left) is above the limit set") == 1);
  CHECK(n_words(none, "Shaded") == 0);
  swept.sweep.window.seals = false;
  CHECK(window_sentence(swept.report()).starts_with("No window: no equal tension"));
  CHECK_FALSE(has_window(swept.sweep.window));
}

}  // namespace rimload
