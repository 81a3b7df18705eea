#include "fit/skin_tolerance.hpp"

#include <algorithm>

#include "fit/breath.hpp"

namespace rimload {

std::vector<SiteTolerance> skin_tolerance(const Case& input,
                                          std::span<const PhaseEstimate> phases) {
  const std::vector<PhaseOfBreath> breath = phases_of(input.settings);
  std::vector<SitesInPhase> pressed;
  for (std::size_t k = 0; k < phases.size(); ++k) {
    if (!phases[k].seated) return {};
    pressed.push_back({phases[k].sites, breath[k].share});
  }
  const std::vector<SidedSite>& injured = input.safety.injured_sites;
  WearPlan wear = input.wear;
  wear.hours_a_day = input.hours_planned;
  std::vector<SiteTolerance> out;
  for (SiteQuestion& question : site_questions(pressed)) {
    const bool is_injured =
        std::find(injured.begin(), injured.end(), question.place) != injured.end();
    if (!is_injured && !is_pressed(question)) continue;
    question.skin = input.skin;
    if (is_injured) question.skin.injuries = {InjurySign::injured_skin};
    out.push_back(tolerance_of(question, wear));
  }
  return out;
}

}  // namespace rimload
