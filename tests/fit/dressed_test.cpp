#include "fit/dressed.hpp"

#include "catch.hpp"
#include "fit/fit.hpp"
#include "stored_case.hpp"

using namespace rimload;

namespace {

std::string worn(const std::string& pieces) {
  return R"("straps": {"tension_N": {"upper_left": 3, "upper_right": 3,
                                     "lower_left": 3, "lower_right": 3}},
    "dressings": {"catalogue": "../catalogue/demo-dressings.json", "worn": [)" +
         pieces + "]}";
}

Estimate with(const std::string& pieces) { return estimate_fit(case_of({.rest = worn(pieces)})); }

const SitePressure& at(const Estimate& estimate, Site site, Side side = Side::midline) {
  for (const SitePressure& each : estimate.phases.front().sites) {
    if (each.site == site && each.side == side) return each;
  }
  throw std::logic_error("no such site");
}

double force_on_skin(const Estimate& estimate) {
  double sum = 0;
  for (const ContactSample& sample : estimate.phases.front().on_skin) {
    sum += sample.area_mm2 * sample.pressure;
  }
  return sum;
}

double force_on_top(const Estimate& estimate) {
  double sum = 0;
  for (const ContactSample& sample : estimate.phases.front().state.samples) {
    sum += sample.area_mm2 * sample.pressure;
  }
  return sum;
}

}  // namespace

TEST_CASE("a worn dressing lies where the bare mask presses and takes the mask up with it") {
  const Estimate bare = with("");
  const Estimate dressed = with(R"({"site": "nasal_bridge", "dressing": "demo-hydrogel-sheet"})");
  REQUIRE(dressed.worn.size() == 1);
  CHECK(dressed.worn[0].dressing.name == "demo-hydrogel-sheet");
  CHECK(dressed.placement.translation_mm == bare.placement.translation_mm);
  // Straps of the same length, held farther out.
  const auto& before = bare.phases.front().state.straps;
  const auto& after = dressed.phases.front().state.straps;
  for (std::size_t k = 0; k < before.size(); ++k) CHECK(after[k].tension_n > before[k].tension_n);
  const SkinCover& cover = *dressed.face.cover;
  CHECK(cover.at(SkinMap::chart(at(bare, Site::nasal_bridge).sensor_at)).thickness_mm ==
        Approx(dressed.worn[0].dressing.thickness_mm));
}

TEST_CASE("what is spread beneath a dressing is all that presses on it") {
  const Estimate dressed = with(R"({"site": "nasal_bridge", "dressing": "demo-thin-foam"},
    {"site": "cheek", "side": "left", "dressing": "demo-hydrogel-sheet"})");
  REQUIRE(dressed.worn.size() == 2);
  CHECK(force_on_skin(dressed) == Approx(force_on_top(dressed)).epsilon(1e-12));
  CHECK(dressed.phases.front().on_skin.size() > dressed.phases.front().state.samples.size());
}

TEST_CASE("a dressing where nothing presses is left out") {
  CHECK(with(R"({"site": "forehead", "dressing": "demo-thin-foam"})").worn.empty());
}

TEST_CASE("pieces left and right on a symmetric face load it symmetrically") {
  const Estimate dressed = with(R"({"site": "cheek", "side": "left", "dressing": "demo-thin-foam"},
    {"site": "cheek", "side": "right", "dressing": "demo-thin-foam"})");
  REQUIRE(dressed.worn.size() == 2);
  // Outlines are walked over the skin station by station, in opposite order left and right.
  CHECK(at(dressed, Site::cheek, Side::left).sensor ==
        Approx(at(dressed, Site::cheek, Side::right).sensor).epsilon(5e-3));
}

TEST_CASE("moduli of a dressing give back the Poisson's ratio that they were made with") {
  for (const double nu : {0.0, 0.2, 0.45, 0.49}) {
    CHECK(poisson_of({.compressive = 0.03, .shear = 0.03 / (2 * (1 + nu))}) == Approx(nu));
  }
  CHECK(poisson_of({.compressive = 0.03, .shear = 0.005}) == 0.49);  // no such isotropic material
}
