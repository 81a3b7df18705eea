#include "case/read_seen.hpp"

#include <algorithm>
#include <array>

#include "case/read_site.hpp"
#include "case/strap_request.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

constexpr std::array finger_checks{FingerCheck::two_fingers, FingerCheck::one_finger,
                                   FingerCheck::none};
constexpr std::array skin_states{SkinState::unchanged, SkinState::red_blanches,
                                 SkinState::red_does_not_blanch, SkinState::broken};

Observation read_observation(const JsonPlace& place, const std::optional<Cushion>& cushion,
                             std::vector<Fault>& faults) {
  const auto fault = [&](const JsonPlace& at, std::string message) {
    faults.push_back({"", at.pointer(), std::move(message)});
  };
  Observation out;
  const JsonPlace straps = place["straps"];
  const JsonPlace change = straps["change_mm"];
  if (change.present() && (straps["tension_N"].present() || straps["setting"].present())) {
    fault(straps, "give one of tension_N, setting and change_mm, not two");
  }
  out.straps = read_straps(straps, cushion, faults);
  out.strap_change_mm = change.number().value_or(0);
  const JsonPlace leak = place["leak_L_min"];
  const JsonPlace doubt = place["leak_doubt_percent"];
  if (const auto flow = leak.number()) out.leak = units::from_l_per_min(*flow);
  if (const auto percent = doubt.number()) out.doubt = *percent / 100;
  if (doubt.present() && !leak.present()) fault(doubt, "goes with leak_L_min, which is missing");
  for (const FingerCheck check : finger_checks) {
    if (place["finger"].text() == name_of(check)) out.finger = check;
  }
  const JsonPlace skin = place["skin"];
  const JsonPlace after = place["skin_after_h"];
  out.skin_after_h = after.number().value_or(0);
  if (skin.present() && !after.present()) {
    fault(after, "missing; needed: the hours worn when the skin was looked at, 0 to 72 h");
  }
  if (after.present() && !skin.present()) fault(after, "goes with skin, which is missing");
  for (const JsonPlace& entry : skin.entries()) {
    const auto site = read_site(entry, faults);
    for (const SkinState state : skin_states) {
      if (site && entry["state"].text() == name_of(state)) out.skin.push_back({*site, state});
    }
  }
  if (!leak.present() && !place["finger"].present() && !skin.present()) {
    fault(place, "tells nothing; give leak_L_min, finger or skin");
  }
  return out;
}

}  // namespace

std::vector<Observation> read_seen(const JsonPlace& seen, const std::optional<Cushion>& cushion,
                                   std::vector<Fault>& faults) {
  std::vector<Observation> out;
  for (const JsonPlace& entry : seen.entries()) {
    out.push_back(read_observation(entry, cushion, faults));
  }
  return out;
}

SafetyAnswers with_injuries(SafetyAnswers safety, const std::vector<Observation>& seen) {
  std::vector<SidedSite>& injured = safety.injured_sites;
  for (const Observation& each : seen) {
    for (const SkinSeen& skin : each.skin) {
      if (!is_injury(skin.state)) continue;
      safety.skin_checked = true;
      if (std::find(injured.begin(), injured.end(), skin.site) == injured.end()) {
        injured.push_back(skin.site);
      }
    }
  }
  return safety;
}

}  // namespace rimload
