// The demonstration's cushions on the stored faces, solved at strap tensions of one's choice.
#pragma once

#include <map>

#include "fit/trial.hpp"

namespace rimload {

/// Every size of every cushion of the demonstration.
[[nodiscard]] const std::vector<Cushion>& demo_cushions();
[[nodiscard]] const Cushion& demo_cushion(std::string_view name, std::string_view size);

/// A stored face made ready, once.
[[nodiscard]] const FaceModel& face_named(const std::string& name);
[[nodiscard]] const FaceInUse& face_in_use(const std::string& name);

/// A case on the reference face, continuous pressure.
[[nodiscard]] Case case_with(const Cushion& cushion, double cmh2o);

/// One solve from the placement. @param tension_n one a strap, or one value for all
[[nodiscard]] TrialPhase solve_case(const Case& input, std::vector<double> tension_n);

/// Pressure by site of contact, those without contact left out.
using BySite = std::map<SidedSite, SitePressure>;
[[nodiscard]] BySite pressed_sites(const Case& input, const PhaseState& state);

/// Force of the samples on the mask.
[[nodiscard]] Vec3 contact_force(const PhaseState& state);
/// Pull of all straps on the mask.
[[nodiscard]] Vec3 strap_force(const PhaseState& state);

}  // namespace rimload
