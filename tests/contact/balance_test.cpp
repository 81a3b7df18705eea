// Balance of forces and moments, added up again from what is reported.
#include <map>

#include "catch.hpp"
#include "scene.hpp"

using namespace rimload;

namespace {
constexpr double force_tolerance_n = 1e-6;
constexpr double moment_tolerance_n_mm = 1e-4;

void check_balance(const PhaseState& state) {
  REQUIRE(state.termination == Termination::converged);
  const Vec6 sum = contact_wrench(state) + load_wrench(state);
  CHECK(sum.head<3>().norm() < force_tolerance_n);
  CHECK(sum.tail<3>().norm() < moment_tolerance_n_mm);
}
}  // namespace

TEST_CASE("contact as sampled balances straps, gas, weight and hose, forces and moments") {
  for (const double tension : {2.0, 5.0, 12.0}) {
    for (const double gas : {0.0, 0.6e-3, 1.2e-3}) {
      INFO("tension " << tension << " N, gas " << gas << " N/mm2");
      const PhaseState state = solve(test_mask(), {.tension_n = tension, .gas_pressure = gas});
      check_balance(state);
      CHECK(contact_wrench(state).head<3>().norm() > 1);  // there is something to balance
    }
  }
}

TEST_CASE("a mask that the gas lifts off floats on its straps, in balance without contact") {
  const PhaseState state = solve(test_mask(), {.tension_n = 2, .gas_pressure = 3e-3});
  check_balance(state);
  CHECK(contact_wrench(state).norm() == 0);
}

TEST_CASE("residuals reported are those of the samples") {
  const PhaseState state = solve(test_mask(), {});
  CHECK(state.force_residual_n < force_tolerance_n);
  CHECK(state.moment_residual_n_mm < moment_tolerance_n_mm);
  const Vec6 sum = contact_wrench(state) + load_wrench(state);
  // Both are sums of a thousand terms of up to 1 N and 100 N mm, in another order.
  CHECK(std::abs(sum.head<3>().norm() - state.force_residual_n) < 1e-9);
  CHECK(std::abs(sum.tail<3>().norm() - state.moment_residual_n_mm) < 1e-7);
}

TEST_CASE("the lip of each station carries what its samples carry, less the gas behind it") {
  // With no beam every station stands alone: its contact force along the axis is the lip's
  // spring force plus the gas share on the area that touches.
  Mask mask = test_mask();
  mask.lip.bending_n_mm2 = mask.lip.hoop_tension_n = 0;
  const Setting setting;
  const PhaseState state = solve(mask, setting);
  REQUIRE(state.termination == Termination::converged);
  std::vector<double> carried(mask.rim.n_stations(), 0.0);
  std::vector<double> pressed(mask.rim.n_stations(), 0.0);
  const double blend = EquilibriumOptions{}.edge_blend_mm;
  for (const ContactSample& s : state.samples) {
    if (s.part != Part::rim) continue;
    const auto i = static_cast<std::size_t>(s.station);
    const Vec3 axis = state.pose.rotation * mask.rim.stations[i].axis;
    carried[i] += s.area_mm2 * axis.dot(s.pressure * s.normal + s.shear);
    pressed[i] += s.area_mm2 * smooth_switch(-s.gap_mm / blend).value;
  }
  for (std::size_t i = 0; i < carried.size(); ++i) {
    const RimStation& station = mask.rim.stations[i];
    const double spring =
        station.length_mm * mask.lip
                                .force_per_length(state.lip_mm[static_cast<Eigen::Index>(i)],
                                                  mask.rim.section.lip_width_mm,
                                                  station.stiffness_factor)
                                .value;
    CHECK(carried[i] ==
          Approx(spring + mask.lip.gas_share * setting.gas_pressure * pressed[i]).margin(1e-8));
  }
}

TEST_CASE("what the mask does to the head is the opposite of what the head does to the mask") {
  // On the head act the contact, the straps' other ends, the gas on the face and the hose and
  // weight not at all; so head and mask together feel only weight and hose.
  const PhaseState state = solve(test_mask(), {});
  Vec3 on_head = Vec3::Zero();
  for (const ContactSample& s : state.samples) {
    on_head -= s.area_mm2 * (s.pressure * s.normal + s.shear);
  }
  for (const StrapLoad& strap : state.straps) on_head -= strap.tension_n * strap.direction;
  on_head -= state.gas.force_n;
  CHECK((on_head - state.weight.force_n - state.hose.force_n).norm() < force_tolerance_n);
}

TEST_CASE("the reported samples and loads are those the balance was computed from") {
  const Mask mask = test_mask();
  MaskOnFace on_face(reference_face().field(), mask, {});
  MaskState state = set_up(on_face, {});
  // A state out of balance: the reported loads must add up to its residual.
  state.pose = state.pose.moved({0.4, -0.3, -2}, {0.01, 0.02, -0.01}, on_face.reference_mask());
  state.lip_mm.setConstant(0.7);
  const Balance balance = on_face.evaluate(state);
  const PhaseState reported = on_face.describe(state);
  const Vec6 sum = contact_wrench(reported) + load_wrench(reported);
  const Vec3 about = state.pose * on_face.reference_mask();
  CHECK((sum.head<3>() - balance.mask.head<3>()).norm() < 1e-9);
  CHECK((sum.tail<3>() - about.cross(sum.head<3>()) - balance.mask.tail<3>()).norm() < 1e-7);
}

TEST_CASE("a mask nothing holds is reported without a balance, not thrown") {
  Mask mask = test_mask();
  mask.straps.clear();
  const PhaseState state = solve(mask, {.tension_n = 0, .gas_pressure = 3e-3});
  CHECK(state.termination != Termination::converged);
  CHECK(state.evaluations <= EquilibriumOptions{}.max_evaluations);
}
