#include "fit/site_section.hpp"

#include "catch.hpp"
#include "fit/fit.hpp"
#include "stored_case.hpp"

using namespace rimload;

namespace {

const Estimate& estimate() {
  static const Estimate out = estimate_fit(case_of({}));
  return out;
}

SiteSection slice(Site site, std::optional<Side> side = {}) {
  auto out = site_section(estimate(), site, side);
  REQUIRE(out.has_value());
  return std::move(*out);
}

}  // namespace

TEST_CASE("a slice is loaded with the force that its station bears, and passes it to the bone") {
  for (const Site site : {Site::nasal_bridge, Site::nose_side, Site::cheek, Site::chin}) {
    CAPTURE(name_of(site));
    const SiteSection section = slice(site);
    double load = 0;
    for (const StationSample& sample : section.samples) load += sample.pressure * sample.width_mm;
    // The rim is longer on its outer side than along its crown: samples have lengths of their own,
    // most so over the bridge, where it turns sharply.
    CHECK(load == Approx(section.line_force_n_mm).epsilon(site == Site::nasal_bridge ? 0.25 : 0.1));
    double on_bone = 0;
    for (const BoneStress& stress : section.answer.bone)
      on_bone += stress.pressure * stress.length_mm;
    // Balance of forces; some of it goes to the far sides, and bone values are taken from points
    // nearby.
    CHECK(on_bone == Approx(load).epsilon(0.05));
  }
}

TEST_CASE("left and right slices of a symmetric face are alike") {
  const SiteSection left = slice(Site::cheek, Side::left);
  const SiteSection right = slice(Site::cheek, Side::right);
  CHECK(left.place.side == Side::left);
  CHECK(right.place.side == Side::right);
  // Mirror stations; a fit is symmetric to 1e-6 of the peak.
  CHECK(left.line_force_n_mm == Approx(right.line_force_n_mm).epsilon(1e-4));
  CHECK(left.answer.fat.compression == Approx(right.answer.fat.compression).epsilon(1e-3));
}

TEST_CASE("the bridge is sliced through thinner tissue than the cheek, and strained more") {
  const SiteSection bridge = slice(Site::nasal_bridge);
  const SiteSection cheek = slice(Site::cheek);
  CHECK(bridge.tissue.depth_mm < cheek.tissue.depth_mm);
  CHECK(bridge.answer.bone_pressure_peak > cheek.answer.bone_pressure_peak);
}

TEST_CASE("a site that the rim does not press has no slice") {
  CHECK_FALSE(site_section(estimate(), Site::forehead, {}).has_value());
}

TEST_CASE("a slice under a worn dressing holds it as the catalogue has it") {
  const Case worn = case_of({.rest = R"("dressings": {
      "catalogue": "../catalogue/demo-dressings.json",
      "worn": [{"site": "nasal_bridge", "dressing": "demo-thin-hydrocolloid"}]})"});
  const auto section = site_section(estimate_fit(worn), Site::nasal_bridge, std::nullopt);
  REQUIRE(section);
  const Dressing& dressing = worn.worn.front().dressing;
  // Moduli go through the layer's compliances and back; its edge is bevelled elsewhere.
  CHECK(section->dressing.thickness_mm == Approx(dressing.thickness_mm));
  CHECK(section->dressing.youngs_n_mm2 == Approx(dressing.dry.compressive));
  CHECK(section->dressing.poisson == Approx(*dressing.poisson));
  CHECK(section->answer.dressing.compression > 0);
}
