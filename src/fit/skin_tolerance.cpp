#include "fit/skin_tolerance.hpp"

#include <algorithm>

#include "fit/breath.hpp"
#include "fit/site_section.hpp"
#include "skin/tolerance_curve.hpp"

namespace rimload {

std::vector<SiteTolerance> skin_tolerance(const Case& input, std::span<const PhaseEstimate> phases,
                                          const std::map<SidedSite, double>& muscle_stress) {
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
    const auto stress = muscle_stress.find(question.place);
    if (stress != muscle_stress.end()) question.muscle_stress = stress->second;
    if (is_injured) question.skin.injuries = {InjurySign::injured_skin};
    out.push_back(tolerance_of(question, wear));
  }
  return out;
}

Estimate with_muscle_stress(Estimate estimate) {
  std::map<SidedSite, double> stress;
  for (const SiteTolerance& row : estimate.skin) {
    const Site site = row.place.site;
    if (is_strap_site(site) || site == Site::tube || !has_muscle(site)) continue;
    if (const auto section = site_section(estimate, site, row.place.side)) {
      stress[row.place] = section->answer.bone_pressure_peak;
    }
  }
  estimate.skin = skin_tolerance(estimate.input, estimate.phases, stress);
  return estimate;
}

}  // namespace rimload
