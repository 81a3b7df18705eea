#include "report/finding.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>
#include <vector>

#include "contact/told_apart.hpp"
#include "fit/breath.hpp"
#include "fit/caution.hpp"
#include "fit/scan_draw.hpp"
#include "leak/seal_law.hpp"
#include "report/finding_cautions.hpp"
#include "report/finding_leak.hpp"
#include "report/finding_lines.hpp"
#include "report/settings_check.hpp"
#include "report_data.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

const nlohmann::json& published() {
  static const auto table = nlohmann::json::parse(data::published_pressure_json());
  return table;
}

std::string phase_words(const PhaseEstimate& phase) {
  return fmt::format("{}, {:.4g} cmH2O",
                     phase.phase == Phase::continuous   ? "CPAP"
                     : phase.phase == Phase::expiratory ? "Expiratory"
                                                        : "Inspiratory",
                     units::to_cmh2o(phase.state.gas_pressure));
}

std::string seat_and_seal(const PhaseEstimate& phase) {
  const std::string head = phase_words(phase);
  if (!phase.seated) return fmt::format("{}: does not seat: {}.", head, phase.reason);
  const double margin = units::to_cmh2o(phase.seal.weakest_margin);
  const std::string weakest = list_of(weakest_sites(phase.seal));
  const std::string how_weak = phase.seal.stations[phase.seal.weakest_station].least_gap_mm > 0
                                   ? "which does not touch"
                                   : fmt::format("{:.1f} cmH2O {} the gas", std::abs(margin),
                                                 margin >= 0 ? "above" : "below");
  constexpr double all_round = 1 - 1e-9;
  if (phase.leak.total <= 0) {
    return fmt::format("{}: seats and seals, least at the {}, by {:.1f} cmH2O.", head, weakest,
                       margin);
  }
  if (phase.seal.sealed_fraction >= all_round) {
    return fmt::format(
        "{}: seats, seals all round but for what breaks it, leak {:.1f} L/min; least at "
        "the {}, {}.",
        head, units::to_l_per_min(phase.leak.total), weakest, how_weak);
  }
  return fmt::format(
      "{}: seats; {:.0f} % of the rim seals, leak {:.1f} L/min; least at the {}, {}.", head,
      std::floor(100 * phase.seal.sealed_fraction), units::to_l_per_min(phase.leak.total), weakest,
      how_weak);
}

void add_eyelids(const Estimate& estimate, FindingLines& out) {
  std::vector<SidedSite> touched;
  for (const PhaseEstimate& phase : estimate.phases) {
    for (const SitePressure& site : phase.sites) {
      const SidedSite place{site.site, site.side};
      if (site.site != Site::eyelid || site.contact_area <= 0) continue;
      if (std::find(touched.begin(), touched.end(), place) == touched.end()) {
        touched.push_back(place);
      }
    }
  }
  if (touched.empty()) return;
  out.add(FindingLines::always,
          fmt::format("The rim touches the {}: move it or choose another mask.", list_of(touched)));
}

void add_clearances(const Estimate& estimate, FindingLines& out) {
  for (const Clearance& clearance : estimate.clearances) {
    if (clearance.too_near()) out.add(2, words_for(clearance));
  }
}

// The hardest pressed place over all phases, by sensor reading.
struct Worst {
  const PhaseEstimate* phase = nullptr;
  const SitePressure* site = nullptr;
};
enum class Under { rim, straps };
Worst worst_of(const Estimate& estimate, Under under) {
  Worst worst;
  for (const PhaseEstimate& phase : estimate.phases) {
    for (const SitePressure& site : phase.sites) {
      const bool strap = is_strap_site(site.site);
      if (strap != (under == Under::straps)) continue;
      if (site.site == Site::eyelid || site.sensor <= 0) continue;
      if (worst.site == nullptr || site.sensor > worst.site->sensor + told_apart)
        worst = {&phase, &site};
    }
  }
  return worst;
}

std::string published_beside(Site site) {
  for (const auto& row : published().at("rows")) {
    if (row.at("site") != name_of(site)) continue;
    return fmt::format(
        "Measured there under oronasal masks: {:.0f} (SD {:.0f}) mmHg, {} wearers ({}).",
        row.at("mean_mmHg").get<double>(), row.at("sd_mmHg").get<double>(), row.at("n").get<int>(),
        row.at("source").get<std::string>());
  }
  return "No measured value is published for this site.";
}

void add_pressure(const Estimate& estimate, FindingLines& out) {
  const Worst worst = worst_of(estimate, Under::rim);
  if (worst.site == nullptr) return;
  const double need = units::to_mmhg(estimate.input.settings.inspiratory + seal_law().sealed_above);
  const std::string when = estimate.input.settings.bilevel
                               ? fmt::format(", {}", name_of(worst.phase->phase))
                               : std::string();
  out.add(1, fmt::format("Most pressed: {}, {:.0f} mmHg over 1 cm2 (peak {:.0f}){}. Sealing needs "
                         "{:.0f} mmHg. {}",
                         place_words({worst.site->site, worst.site->side}),
                         units::to_mmhg(worst.site->sensor), units::to_mmhg(worst.site->peak), when,
                         need, published_beside(worst.site->site)));
  const Worst strap = worst_of(estimate, Under::straps);
  if (strap.site == nullptr) return;
  out.add(7, fmt::format("Hardest strap: {}, {:.0f} mmHg under a band {:g} mm wide.",
                         place_words({strap.site->site, strap.site->side}),
                         units::to_mmhg(strap.site->sensor), strap.site->strap_width_mm));
}

// The site that sets when the mask comes off next. Injured skin has its caution already.
void add_skin(const Estimate& estimate, FindingLines& out) {
  if (estimate.skin.empty()) return;
  const SiteTolerance& row = most_urgent(estimate.skin);
  if (row.concern.level == Concern::injury) return;
  std::string text = fmt::format("Skin: concern {} at the {}: {}", name_of(row.concern.level),
                                 place_words(row.place), row.concern.reasons.front());
  if (!row.plan.words.empty()) text += " " + row.plan.words.front();
  out.add(1, text + " No curve is from facial skin.");
}

// The middle step stands for the others.
void add_swelling(const Estimate& estimate, FindingLines& out) {
  if (estimate.swelling.size() < 2) return;
  const SwellingStep& step = estimate.swelling[1];
  const Worst worst = worst_of(estimate, Under::rim);
  if (!step.seated || worst.site == nullptr) return;
  const SidedSite place{worst.site->site, worst.site->side};
  for (const SwollenSite& site : step.sites) {
    if (site.site != place) continue;
    std::string text = fmt::format(
        "Check the straps again as the face swells: {:g} mm more and the {} goes from {:.0f} to "
        "{:.0f} mmHg",
        step.raise_mm, place_words(place), units::to_mmhg(site.before), units::to_mmhg(site.after));
    if (step.let_out_mm) {
      text += fmt::format("; {:.0f} mm of each strap let out undoes it{}", *step.let_out_mm,
                          step.seals_let_out ? "" : " but no longer seals");
    }
    out.add(5, text + ".");
  }
}

void add_bands(const Estimate& estimate, FindingLines& out) {
  if (!estimate.bands) return;
  const FitBands& bands = *estimate.bands;
  const Worst worst = worst_of(estimate, Under::rim);
  std::string text = fmt::format("Over {} draws of what can't be known: ", bands.n_draws);
  for (const SiteBand& band : bands.sites) {
    if (worst.site == nullptr || band.site != SidedSite{worst.site->site, worst.site->side})
      continue;
    text += fmt::format("{} {:.0f} to {:.0f} mmHg (10 to 90 %), ", place_words(band.site),
                        units::to_mmhg(band.sensor.low), units::to_mmhg(band.sensor.high));
  }
  text += fmt::format("at these straps it seals in {:.0f} % and leaks up to {:.1f} L/min in 90 %",
                      100 * bands.seals_share, units::to_l_per_min(bands.leak.high));
  if (!bands.drivers.empty()) {
    text += fmt::format("; moved most by: {}", words_for(bands.drivers.front().driver));
  }
  out.add(1, text + ".");
  out.add(3, scan_draw_words(estimate.input));
}

void add_worn(const Estimate& estimate, FindingLines& out) {
  if (estimate.worn.empty()) return;
  std::string text = "With dressings on: ";
  for (const WornPiece& piece : estimate.worn) {
    text += fmt::format("{}{} at the {}", &piece == &estimate.worn.front() ? "" : ", ",
                        piece.dressing.name, place_words(piece.place.site));
  }
  text += ". Readings are of the skin beneath.";
  std::set<SidedSite> sites;
  for (const WornPiece& piece : estimate.worn) sites.insert(piece.place.site);
  if (sites.size() < estimate.worn.size()) {
    text += " Some lie on each other: stacked bulk under a tight mask adds pressure.";
  }
  out.add(1, text);
}

void add_straps(const Estimate& estimate, FindingLines& out) {
  if (estimate.strap_note.empty()) return;
  std::string text = "Straps: " + estimate.strap_note + ".";
  if (estimate.strap_place == StrapPlace::above_window) {
    static const auto practice = nlohmann::json::parse(data::strap_practice_json());
    text += " " + practice.at("crease").get<std::string>();
  }
  out.add(2, text);
}

// Shown and never filled in.
void add_settings(const Estimate& estimate, FindingLines& out) {
  const SettingsCheck check = check_settings(estimate.input.settings);
  out.add(2, check.alarms);
  out.add(5, check.low_alarm + " " + check.high_alarm);
  if (!check.usual_start) out.add(6, check.starts);
}

// The hardest pressed with its reason, the others with size; left and right together.
void add_dressings(const Estimate& estimate, FindingLines& out) {
  const std::vector<DressingPlace>& places = estimate.dressing_places;
  if (places.empty()) {
    out.add(1, estimate.input.safety.injured_sites.empty()
                   ? "No site needs a dressing by the rule in use."
                   : "No site but those above is listed for a dressing by the rule in use.");
    return;
  }
  const auto size_of = [](const DressingPlace& place) {
    return fmt::format("{:.0f} x {:.0f} mm", place.length_mm, place.width_mm);
  };
  std::string others;
  for (auto place = places.begin(); place != places.end(); ++place) {
    const SidedSite twin_site{place->site.site, mirrored(place->site.side)};
    const auto is_twin = [&](const DressingPlace& each) { return each.site == twin_site; };
    const bool sided = place->site.side != Side::midline;
    if (sided && std::any_of(places.begin(), place, is_twin)) continue;
    const auto twin = sided ? std::find_if(place, places.end(), is_twin) : places.end();
    std::string what = place_words(place->site) + ", " + size_of(*place);
    if (twin != places.end()) {
      what = fmt::format("{} left and right, {}", words_for(place->site.site), size_of(*place));
      if (size_of(*twin) != size_of(*place)) what += " and " + size_of(*twin);
    }
    if (place == places.begin()) {
      out.add(1, fmt::format("Dressing: {}: {}.", what, place->reason));
    } else {
      others += (others.empty() ? "" : "; ") + what;
    }
  }
  if (!others.empty()) {
    out.add(3, "By the same rule, pressed less: " + others + ".");
  }
  out.add(4, published().at("dressings").at("text").get<std::string>());
}

}  // namespace

std::string finding(const Estimate& estimate) {
  FindingLines out;
  const Case& input = estimate.input;
  add_cautions(input, estimate.cautions, out);
  out.add(1, case_line(input));
  add_face_remarks(input, out);
  out.add(1, assumed_line("this cushion", input.cushion.assumed));
  add_straps(estimate, out);
  add_worn(estimate, out);
  bool all_seated = true;
  for (const PhaseEstimate& phase : estimate.phases) {
    out.add(FindingLines::always, seat_and_seal(phase));
    all_seated = all_seated && phase.seated;
  }
  add_eyelids(estimate, out);
  add_clearances(estimate, out);
  add_pressure(estimate, out);
  if (all_seated) {
    add_causes(estimate, out);
    add_leak(estimate, out);
    add_bands(estimate, out);
    add_skin(estimate, out);
    add_swelling(estimate, out);
    add_dressings(estimate, out);
  }
  add_settings(estimate, out);
  out.add(3, published().at("checks").at("text").get<std::string>());
  out.add(FindingLines::always, standing_line());
  return out.text();
}

}  // namespace rimload
