#include "fit/trial.hpp"

#include <array>
#include <cmath>

#include "case/mask_of_case.hpp"
#include "catch.hpp"
#include "fit/fit.hpp"
#include "stored_case.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

// A rim of which a share of the stations touches.
PhaseState touching(const Mask& mask, double share) {
  PhaseState state;
  for (std::size_t i = 0; i < mask.rim.n_stations(); ++i) {
    ContactSample sample;
    sample.station = static_cast<int>(i);
    sample.pressure =
        static_cast<double>(i) < share * static_cast<double>(mask.rim.n_stations()) ? 1e-3 : 0;
    state.samples.push_back(sample);
  }
  return state;
}

}  // namespace

TEST_CASE("A mask is seated when half of its rim touches, near its place and in balance") {
  const Mask mask = make_mask(case_of({}));
  const Pose placement;
  CHECK(reason_not_seated(touching(mask, 1), mask, placement).empty());
  CHECK(reason_not_seated(touching(mask, 0.5), mask, placement).empty());
  CHECK(reason_not_seated(touching(mask, 0.49), mask, placement).find("of the rim touches") !=
        std::string::npos);
}

TEST_CASE("A mask that found no balance or left its place is not seated") {
  const Mask mask = make_mask(case_of({}));
  PhaseState state = touching(mask, 1);
  state.termination = Termination::evaluation_limit;
  CHECK_FALSE(reason_not_seated(state, mask, {}).empty());
  state.termination = Termination::converged;
  state.pose.translation_mm = {0, -29, 0};
  CHECK(reason_not_seated(state, mask, {}).empty());
  state.pose.translation_mm = {0, -31, 0};
  CHECK(reason_not_seated(state, mask, {}).find("slides off") != std::string::npos);
  state.pose.translation_mm.setZero();
  state.pose.rotation = rotation_from_vector({0.4, 0, 0});  // 22.9 degrees
  CHECK(reason_not_seated(state, mask, {}).empty());
  state.pose.rotation = rotation_from_vector({0.45, 0, 0});  // 25.8 degrees
  CHECK(reason_not_seated(state, mask, {}).find("slides off") != std::string::npos);
}

TEST_CASE("Loose straps at high pressure are blown off, with a reason and no numbers") {
  const Estimate estimate = estimate_fit(
      case_of({.settings = R"({"cpap_cmH2O": 40})", .rest = R"("straps": {"tension_N": 0.5})"}));
  REQUIRE(estimate.phases.size() == 1);
  const PhaseEstimate& phase = estimate.phases.front();
  CHECK_FALSE(phase.seated);
  CHECK_FALSE(phase.reason.empty());
  CHECK(phase.sites.empty());
  CHECK(phase.seal.stations.empty());
  CHECK(phase.leak.segments.empty());
  CHECK(estimate.dressing_places.empty());
}

TEST_CASE("Weight pulls down in the room, whatever the posture") {
  const double half = std::sqrt(0.5);
  CHECK(gravity_direction(Posture::seated) == Vec3(0, -1, 0));
  CHECK(gravity_direction(Posture::supine) == Vec3(0, 0, -1));
  CHECK(gravity_direction(Posture::left_side) == Vec3(1, 0, 0));
  CHECK(gravity_direction(Posture::right_side) == Vec3(-1, 0, 0));
  CHECK((gravity_direction(Posture::semi_recumbent) - Vec3(0, -half, -half)).norm() < 1e-15);
}

TEST_CASE("Lying on the left side presses the left cheek more, and the mirror image does so too") {
  const auto cheeks = [](const std::string& posture) {
    const Estimate estimate = estimate_fit(
        case_of({.rest = R"("straps": {"tension_N": 4}, "posture": ")" + posture + "\""}));
    std::array<double, 2> out{};
    REQUIRE(estimate.phases.front().seated);
    for (const SitePressure& site : estimate.phases.front().sites) {
      if (site.site != Site::cheek) continue;
      out[site.side == Side::left ? 0 : 1] = site.mean * site.contact_area;
    }
    return out;
  };
  const auto on_left = cheeks("left_side");
  const auto on_right = cheeks("right_side");
  // The mask hangs towards the lower cheek, so that the upper one's side of the rim is drawn on
  // to the face: which cheek gains is found, that both postures mirror each other is certain.
  CHECK(on_left[0] == Approx(on_right[1]).epsilon(1e-6));
  CHECK(on_left[1] == Approx(on_right[0]).epsilon(1e-6));
  CHECK(std::abs(on_left[0] - on_left[1]) > 0.05 * on_left[0]);
}

TEST_CASE("A trial answers alike, whatever it was asked before") {
  const Case input = case_of({});
  const FaceInUse face(input.face);
  const Mask mask = make_mask(input);
  const auto solve = [&](Trial& trial, double tension, double cmh2o) {
    trial.set_straps(std::vector<double>(mask.straps.size(), tension));
    return trial.solve(units::from_cmh2o(cmh2o));
  };
  Trial fresh(input, face, mask, {}, Effort::report);
  const TrialPhase cold = solve(fresh, 5, 10);
  Trial used(input, face, mask, {}, Effort::report);
  for (const auto& [tension, cmh2o] :
       {std::pair{2.0, 4.0}, std::pair{0.5, 40.0}, std::pair{9.0, 20.0}}) {
    (void)solve(used, tension, cmh2o);
  }
  const TrialPhase warm = solve(used, 5, 10);
  REQUIRE(cold.seated);
  REQUIRE(warm.seated);
  double difference = 0;
  for (std::size_t k = 0; k < cold.state.samples.size(); ++k) {
    difference = std::max(
        difference, std::abs(warm.state.samples[k].pressure - cold.state.samples[k].pressure));
  }
  // Both balance to 1e-6 N; a hundredth of a thousandth of the gas pressure.
  CHECK(difference < 1e-5 * units::from_cmh2o(10));
}

TEST_CASE("A strapped mask stays on where gas alone would lift an unstrapped start off") {
  // At 40 cmH2O this mask, set aside, has more than one rest at most tensions: started from its
  // placement it turns by 29 degrees at this one; strapped first, as on a ward, it seals.
  const Case input = case_of({.face = "large",
                              .size = "S",
                              .settings = R"({"cpap_cmH2O": 40})",
                              .rest = R"("placement": {"shift_up_mm": -20, "shift_left_mm": 20})"});
  const FaceInUse face(input.face);
  const Mask mask = make_mask(input);
  Trial trial(input, face, mask);
  trial.set_straps(std::vector<double>(mask.straps.size(), 22));
  const TrialPhase phase = trial.solve(input.settings.expiratory);
  CAPTURE(phase.reason);
  CHECK(phase.seated);
}
