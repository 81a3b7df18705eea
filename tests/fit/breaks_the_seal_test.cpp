// Beard, tube, mouth and teeth as a case gives them.
#include <cstdio>

#include "case/mask_of_case.hpp"
#include "catch.hpp"
#include "fit/fit.hpp"
#include "fit/under_lip.hpp"
#include "stored_case.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

Case with(const std::string& rest, double cpap_cmh2o = 10) {
  return case_of(
      {.settings = "{\"cpap_cmH2O\": " + std::to_string(cpap_cmh2o) + "}", .rest = rest});
}

const Estimate& bare() {
  static const Estimate estimate = estimate_fit(with(R"("hours_planned": 8)"));
  return estimate;
}

// Leak of the bare estimate's balance with something put under its lip.
double leak_with(const UnderLip& under, double gas_factor = 1) {
  const Estimate& estimate = bare();
  PhaseState state = estimate.phases.front().state;
  state.gas_pressure *= gas_factor;
  const SealSummary seal =
      rim_seal(state, estimate.mask, estimate.face.site_of, humid_gas(0.21), under);
  double flow = 0;
  for (const StationSeal& station : seal.stations) flow += station.flow;
  return units::to_l_per_min(flow);
}

UnderLip beard(BeardRegion region, double length_mm, const char* density = "full") {
  UnderLip out;
  out.beard = Beard{region, *hair_named(density, length_mm)};
  return out;
}

FeedingTube tube(double size_fr, Side side = Side::left) {
  FeedingTube out;
  out.side = side;
  out.size_fr = size_fr;
  out.path_face = usual_tube_path(out.kind, side, bare().input.face.landmarks);
  return out;
}

std::optional<TubeCrossing> crossing(const FeedingTube& tube) {
  const Estimate& estimate = bare();
  return tube_crossing(tube, estimate.phases.front().state, estimate.mask, estimate.face.field(),
                       humid_gas(0.21));
}

}  // namespace

TEST_CASE("A beard leaks under a lip that seals on bare skin; longer or denser hair never less") {
  REQUIRE(bare().phases.front().seated);
  REQUIRE(bare().phases.front().leak.total == 0);
  CHECK(leak_with(beard(BeardRegion::full, 0)) == 0);
  double before = 0;
  for (const double length : {1.0, 3.0, 10.0, 30.0}) {
    const double here = leak_with(beard(BeardRegion::full, length));
    CHECK(here > before);
    before = here;
  }
  CHECK(leak_with(beard(BeardRegion::full, 10, "stubble")) <
        leak_with(beard(BeardRegion::full, 10, "short")));
  CHECK(leak_with(beard(BeardRegion::full, 10, "short")) <
        leak_with(beard(BeardRegion::full, 10, "full")));
}

TEST_CASE("Regions of a beard add up to the full one") {
  const double full = leak_with(beard(BeardRegion::full, 8));
  const double parts = leak_with(beard(BeardRegion::moustache, 8)) +
                       leak_with(beard(BeardRegion::cheek, 8)) +
                       leak_with(beard(BeardRegion::chin, 8));
  CHECK(parts == Approx(full));
  CHECK(leak_with(beard(BeardRegion::chin, 8)) > 0);
}

TEST_CASE("Shaving a strip beneath the rim ends the leak through the beard") {
  const std::string hair = R"("region": "full", "hair_mm": 10, "density": "full")";
  const Estimate grown = estimate_fit(with("\"beard\": {" + hair + "}"));
  const Estimate shaved =
      estimate_fit(with("\"beard\": {" + hair + ", \"shaved_under_rim\": true}"));
  CHECK(grown.breath_mean_leak > 0);
  CHECK(grown.phases.front().leak.segments.front().cause == LeakCause::beard);
  CHECK(shaved.breath_mean_leak == 0);
  // The hair changes no balance: the bed is taken as thin.
  CHECK(grown.phases.front().state.pose == shaved.phases.front().state.pose);
}

TEST_CASE("A tube crosses the rim on its side, leaks there and presses the skin beneath it") {
  for (const Side side : {Side::left, Side::right}) {
    const auto found = crossing(tube(12, side));
    REQUIRE(found);
    CHECK((found->at_face.x() > 0) == (side == Side::left));
    CHECK(found->channel.flow > 0);
    CHECK(found->channel.skin_pressure > 0);
    CHECK(found->channel.tube_load > 0);
  }
  CHECK(crossing(tube(12, Side::left))->channel.flow ==
        Approx(crossing(tube(12, Side::right))->channel.flow).epsilon(1e-6));
}

TEST_CASE("A larger tube never leaks less at a fixed pose") {
  double before = 0;
  for (const double size : {4.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0}) {
    const double here = crossing(tube(size))->channel.flow;
    CAPTURE(size);
    CHECK(here >= before);
    before = here;
  }
}

TEST_CASE("A port, or a path that stays inside the rim, leaves no crossing") {
  FeedingTube ported = tube(12);
  ported.through_port = true;
  CHECK_FALSE(crossing(ported));
  FeedingTube inside = tube(12);
  const auto& landmarks = bare().input.face.landmarks;
  inside.path_face = {find_landmark(landmarks, "pronasale", Side::midline).position_face,
                      find_landmark(landmarks, "subnasale", Side::midline).position_face};
  CHECK_FALSE(crossing(inside));
}

TEST_CASE("A tube is a cause and a site of its own") {
  const Estimate estimate =
      estimate_fit(with(R"("tube": {"kind": "nasogastric", "side": "right", "size_Fr": 14})"));
  const PhaseEstimate& phase = estimate.phases.front();
  REQUIRE(phase.leak.segments.size() == 1);
  CHECK(phase.leak.segments.front().cause == LeakCause::tube);
  CHECK(phase.sites.back().site == Site::tube);
  CHECK(phase.sites.back().side == Side::right);
  const SitePressure& skin = phase.sites.back();
  CHECK(skin.peak > units::from_mmhg(32));
  CHECK(skin.area_over_32_mmhg == skin.contact_area);  // pressed alike over its width
  CHECK(skin.contact_area * skin.mean == Approx(sensor_area_mm2 * skin.sensor));
  for (const DressingPlace& place : estimate.dressing_places) CHECK(place.site.site != Site::tube);
}

TEST_CASE("An open mouth leaks under a nasal mask alone") {
  const std::string open = R"("mouth": "mouth_breather")";
  CHECK(estimate_fit(with(open)).phases.front().leak.mouth == 0);
  const Case nasal = case_of({.cushion = "demo-nasal", .rest = open});
  const Estimate estimate = estimate_fit(nasal);
  REQUIRE(estimate.phases.front().seated);
  CHECK(estimate.phases.front().leak.mouth > 0);
  CHECK(estimate.phases.front().leak.total >= estimate.phases.front().leak.mouth);
}

TEST_CASE("Without dentures the lower face is shorter and the lips lie back; both sides alike") {
  const Case out = with(R"("dentures": "out")");
  const auto at = [](const Case& input, const char* name, Side side) {
    return find_landmark(input.face.landmarks, name, side).position_face;
  };
  const Case& in = bare().input;
  CHECK(at(out, "menton", Side::midline).y() > at(in, "menton", Side::midline).y());
  CHECK(at(out, "stomion", Side::midline).z() < at(in, "stomion", Side::midline).z());
  CHECK(at(out, "sellion", Side::midline) == at(in, "sellion", Side::midline));
  const Vec3 left = at(out, "cheilion", Side::left);
  CHECK(at(out, "cheilion", Side::right) == Vec3(-left.x(), left.y(), left.z()));
}

// At a fixed pose the beard's leak rises with pressure. Re-seated, more gas also takes load off the
// hair; the tube's channel can be pressed shut from behind. Exceptions are counted, not forbidden.
TEST_CASE("Re-seated at a higher pressure, what breaks the seal leaks more nearly always") {
  int n_pairs = 0;
  int n_exceptions = 0;
  for (const char* face : {"reference", "small", "long-narrow"}) {
    for (const char* rest : {R"("beard": {"region": "full", "hair_mm": 8, "density": "full"})",
                             R"("tube": {"kind": "nasogastric", "side": "left", "size_Fr": 12})",
                             R"("tube": {"kind": "orogastric", "side": "right", "size_Fr": 16})"}) {
      double before = 0;
      for (const double cpap : {5.0, 8.0, 11.0, 14.0}) {
        const Estimate estimate = estimate_fit(case_of(
            {.face = face,
             .size = std::string(face) == "small" ? "S" : "M",
             .settings = "{\"cpap_cmH2O\": " + std::to_string(cpap) + "}",
             .rest = std::string(R"("straps": {"tension_N": {"upper": 4.5, "lower": 4.5}}, )") +
                     rest}));
        REQUIRE(estimate.phases.front().seated);
        CHECK(estimate.breath_mean_leak > 0);
        if (before > 0) {
          ++n_pairs;
          if (estimate.breath_mean_leak < before) ++n_exceptions;
        }
        before = estimate.breath_mean_leak;
      }
    }
  }
  std::printf("re-seated: %d of %d steps up in pressure leak less\n", n_exceptions, n_pairs);
  CHECK(n_pairs == 27);
  CHECK(n_exceptions <= 2);
}

TEST_CASE("A cushion with a port leaks a little around the tube, and none passes under its rim") {
  const auto fitted = [](const char* rest) {
    return estimate_fit(case_of({.cushion = "demo-oronasal-gel", .rest = rest}));
  };
  const Estimate without = fitted(R"("hours_planned": 8)");
  const Estimate ported =
      fitted(R"("tube": {"kind": "nasogastric", "side": "left", "size_Fr": 12})");
  REQUIRE(ported.input.cushion.tube_port);
  const PhaseEstimate& phase = ported.phases.front();
  REQUIRE(phase.seated);
  CHECK_FALSE(phase.under.tube);
  CHECK(phase.leak.port > 0);
  CHECK(phase.leak.total ==
        Approx(without.phases.front().leak.total + phase.leak.port).epsilon(1e-9));
  Case closed = ported.input;
  closed.tube->through_port = false;
  closed.cushion.tube_port = false;
  const Estimate under_rim = estimate_fit(closed);
  REQUIRE(under_rim.phases.front().under.tube);
  CHECK(under_rim.phases.front().leak.total > phase.leak.total);
}
