// One mask on one face, ready to be solved at any strap setting and gas pressure.
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "fit/estimate.hpp"

namespace rimload {

/// What lies under a phase's balance at a strap setting.
struct TrialPhase {
  PhaseState state;
  bool seated = false;
  std::string reason;  ///< why not
};

/// Where a mask rests, by gas pressure [N/mm2].
using Balances = std::map<double, MaskState>;
/// Those of the phases that seat.
[[nodiscard]] Balances balances_of(const std::vector<PhaseEstimate>& phases);

/// Why a balance is not a mask on a face, or nothing when it is one.
///
/// Seated: converged, at least half of the rim's stations touch, and the frame is within 30 mm and
/// 25 degrees of its placement (conventions of this project).
[[nodiscard]] std::string reason_not_seated(const PhaseState& state, const Mask& mask,
                                            const Pose& placement);

/// How closely forces balance.
enum class Effort {
  search,  ///< to 1e-4 N, which pressures show in their fifth digit: sweeps, searches, draws
  report   ///< as the case's numerics say: what is reported as an estimate
};

/// Solves phases one after the other, each starting from the last that was seated at its own gas
/// pressure, or else at any. Refers to case and face.
///
/// Friction and strap lengths are measured from the placement, so the order does not matter for
/// the answer, only for the time.
class Trial {
 public:
  /// @param placement of the mask, when it is known already; dressings and swelling don't change it
  Trial(const Case& input, const FaceInUse& face, const Mask& mask,
        const std::optional<Pose>& placement = {}, Effort effort = Effort::search);

  [[nodiscard]] const Case& input() const { return input_; }
  [[nodiscard]] const FaceInUse& face() const { return face_; }
  [[nodiscard]] const Mask& mask() const { return mask_on_face_.mask(); }
  [[nodiscard]] const Pose& placement() const { return placement_; }
  /// @param tension_n one a strap, gas off, at placement
  void set_straps(std::vector<double> tension_n);
  /// Where to look first for the balance at each gas pressure.
  void start_from(Balances balances);
  /// Those found last.
  [[nodiscard]] const Balances& balances() const { return warm_; }
  /// @return a seated balance if one is found from the last one or from the strapped mask without
  /// gas
  [[nodiscard]] TrialPhase solve(double gas_pressure);

 private:
  [[nodiscard]] TrialPhase solve_from(MaskState state, double gas_pressure);
  [[nodiscard]] MaskState at_placement() const;

  const Case& input_;
  const FaceInUse& face_;
  EquilibriumOptions options_;
  MaskOnFace mask_on_face_;
  Pose placement_;
  MaskState last_;  ///< that was seated
  Balances warm_;   ///< and at each gas pressure
};

/// Which way weights pull, in the facial frame. Semi-recumbent: head raised 45 degrees.
[[nodiscard]] Vec3 gravity_direction(Posture posture);

}  // namespace rimload
