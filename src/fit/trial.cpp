#include "fit/trial.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>
#include <utility>

#include "contact/solve.hpp"

namespace rimload {

namespace {
constexpr double least_touching_fraction = 0.5;
constexpr double farthest_shift_mm = 30;
constexpr double largest_turn_deg = 25;

EquilibriumOptions options_for(const Case& input, Effort effort) {
  EquilibriumOptions out = input.numerics;
  if (effort == Effort::search) {
    constexpr double looser = 100;
    out.force_tolerance_n *= looser;
    out.moment_tolerance_n_mm *= looser;
    out.lip_tolerance_n_mm *= looser;
  }
  return out;
}
}  // namespace

Vec3 gravity_direction(Posture posture) {
  switch (posture) {
    case Posture::seated: return {0, -1, 0};
    case Posture::supine: return {0, 0, -1};
    case Posture::left_side: return {1, 0, 0};
    case Posture::right_side: return {-1, 0, 0};
    case Posture::semi_recumbent: break;
  }
  return {0, -std::numbers::sqrt2 / 2, -std::numbers::sqrt2 / 2};
}

std::string reason_not_seated(const PhaseState& state, const Mask& mask, const Pose& placement) {
  if (state.termination == Termination::evaluation_limit) {
    return fmt::format("no balance of forces was found in {} evaluations", state.evaluations);
  }
  std::vector<bool> touches(mask.rim.n_stations(), false);
  for (const ContactSample& sample : state.samples) {
    if (sample.part == Part::rim && sample.pressure > 0) {
      touches[static_cast<std::size_t>(sample.station)] = true;
    }
  }
  const auto n_touching = std::count(touches.begin(), touches.end(), true);
  const double fraction = static_cast<double>(n_touching) / static_cast<double>(touches.size());
  if (fraction < least_touching_fraction) {
    double pull = 0;
    for (const StrapLoad& strap : state.straps) pull -= strap.tension_n * strap.direction.z();
    return fmt::format(
        "only {:.0f} % of the rim touches: the gas lifts with {:.1f} N, the straps hold with "
        "{:.1f} N",
        100 * fraction, state.gas.force_n.z(), pull);
  }
  const double shift = (state.pose.translation_mm - placement.translation_mm).norm();
  const double turn =
      Eigen::AngleAxisd(state.pose.rotation * placement.rotation.transpose()).angle() * 180 /
      std::numbers::pi;
  if (shift > farthest_shift_mm || turn > largest_turn_deg) {
    return fmt::format("the mask slides off its place, by {:.0f} mm and {:.0f} degrees", shift,
                       turn);
  }
  return {};
}

Trial::Trial(const Case& input, const FaceInUse& face, const Mask& mask,
             const std::optional<Pose>& placement, Effort effort)
    : input_(input),
      face_(face),
      options_(options_for(input, effort)),
      mask_on_face_(face.field(), mask, options_),
      placement_(placement ? *placement : mask_on_face_.placement(input.placement)) {}

void Trial::set_straps(std::vector<double> tension_n) {
  mask_on_face_.place(placement_, tension_n);
  if (last_.lip_mm.size() == 0) last_ = at_placement();
}

void Trial::start_from(Balances balances) {
  if (balances.empty()) return;
  last_ = balances.begin()->second;
  warm_ = std::move(balances);
}

Balances balances_of(const std::vector<PhaseEstimate>& phases) {
  Balances out;
  for (const PhaseEstimate& phase : phases) {
    if (phase.seated) out[phase.state.gas_pressure] = {phase.state.pose, phase.state.lip_mm};
  }
  return out;
}

TrialPhase Trial::solve(double gas_pressure) {
  const auto own = warm_.find(gas_pressure);
  TrialPhase out = solve_from(own != warm_.end() ? own->second : last_, gas_pressure);
  if (out.seated || gas_pressure <= 0) return out;
  // Under high pressure a mask can rest blown off or sealed. Straps come before the gas: look for a
  // rest near that of the strapped mask.
  TrialPhase strapped = solve_from(at_placement(), 0);
  if (!strapped.seated) return out;
  TrialPhase again = solve_from({strapped.state.pose, strapped.state.lip_mm}, gas_pressure);
  return again.seated ? again : out;
}

TrialPhase Trial::solve_from(MaskState state, double gas_pressure) {
  mask_on_face_.set_gas_and_gravity(gas_pressure, gravity_direction(input_.posture));
  TrialPhase out;
  out.state = balance_phase(mask_on_face_, state, options_);
  out.reason = reason_not_seated(out.state, mask_on_face_.mask(), placement_);
  out.seated = out.reason.empty();
  if (out.seated) {
    last_ = state;
    warm_[gas_pressure] = std::move(state);
  }
  return out;
}

MaskState Trial::at_placement() const {
  return {placement_, Eigen::VectorXd::Zero(static_cast<Eigen::Index>(mask_on_face_.n_stations()))};
}

}  // namespace rimload
