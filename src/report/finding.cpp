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
#include "report/finding_lines.hpp"
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
  const std::string weakest =
      fmt::format("weakest at the {}, {}", place_words(phase.seal.weakest_site),
                  phase.seal.stations[phase.seal.weakest_station].least_gap_mm > 0
                      ? "which does not touch"
                      : fmt::format("contact {:.1f} cmH2O {} the gas", std::abs(margin),
                                    margin >= 0 ? "above" : "below"));
  constexpr double all_round = 1 - 1e-9;
  if (phase.seal.sealed_fraction >= all_round && phase.leak.total > 0) {
    return fmt::format(
        "{}: seats, and the lip seals all round but for what breaks it: leak {:.1f} "
        "L/min; {}.",
        head, units::to_l_per_min(phase.leak.total), weakest);
  }
  if (phase.leak.segments.empty()) return fmt::format("{}: seats and seals; {}.", head, weakest);
  return fmt::format("{}: seats; {:.0f} % of the rim seals, leak {:.1f} L/min; {}.", head,
                     std::floor(100 * phase.seal.sealed_fraction),
                     units::to_l_per_min(phase.leak.total), weakest);
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
  out.add(2, fmt::format("Most pressed: {}, {:.0f} mmHg over 1 cm2 (peak {:.0f}){}. Sealing needs "
                         "{:.0f}. {}",
                         place_words({worst.site->site, worst.site->side}),
                         units::to_mmhg(worst.site->sensor), units::to_mmhg(worst.site->peak), when,
                         need, published_beside(worst.site->site)));
  const Worst strap = worst_of(estimate, Under::straps);
  if (strap.site == nullptr) return;
  out.add(7, fmt::format("Hardest strap: {}, {:.0f} mmHg under a band {:g} mm wide.",
                         place_words({strap.site->site, strap.site->side}),
                         units::to_mmhg(strap.site->sensor), strap.site->strap_width_mm));
}

void add_eye_jet(const LeakSegment& front, FindingLines& out) {
  if (front.direction == JetDirection::left_eye || front.direction == JetDirection::right_eye) {
    out.add(1, fmt::format("A jet blows {}, from the {}: it dries the eye.",
                           words_for(front.direction), place_words(front.site)));
  }
}

// The first leak is at the weakest station of the phase of highest gas pressure, sealed or not.
void add_leak(const Estimate& estimate, FindingLines& out) {
  const PhaseEstimate& phase = estimate.phases.back();
  const std::vector<LeakSegment>& segments = phase.leak.segments;
  const double mean = units::to_l_per_min(estimate.breath_mean_leak);
  const SidedSite weakest = phase.seal.weakest_site;
  const bool rim_leaks = std::any_of(segments.begin(), segments.end(),
                                     [](const auto& each) { return each.cause == LeakCause::fit; });
  const std::string of_the_breath = fmt::format(
      "Mean over the breath {:.1f} L/min, {} the limit set, {:g} L/min, {} the target, "
      "{:g}; a vent's own flow is not counted.",
      mean, mean > estimate.input.leak_limit_l_min ? "above" : "within",
      estimate.input.leak_limit_l_min, mean > estimate.input.leak_target_l_min ? "above" : "within",
      estimate.input.leak_target_l_min);
  if (!rim_leaks) {
    out.add(1, fmt::format("First leak of the lip itself, if straps ease or pressure rises: {}.",
                           place_words(weakest)));
    if (mean > 0) out.add(1, of_the_breath);
  }
  if (segments.empty()) return;
  add_eye_jet(segments.front(), out);
  if (!rim_leaks) return;
  const auto first = std::find_if(segments.begin(), segments.end(),
                                  [&](const LeakSegment& each) { return each.site == weakest; });
  std::string text = fmt::format("First leak: {}", place_words(weakest));
  if (first != segments.end()) {
    text += fmt::format(", {:.1f} L/min {}", units::to_l_per_min(first->flow),
                        words_for(first->direction));
  }
  out.add(1, text + ". " + of_the_breath);
}

// What breaks the seal, largest first, as means over the breath.
void add_causes(const Estimate& estimate, FindingLines& out) {
  const Case& input = estimate.input;
  const auto breath = phases_of(input.settings);
  double beard = 0;
  double tube = 0;
  double mouth = 0;
  double port = 0;
  const TubeCrossing* crossing = nullptr;
  for (std::size_t k = 0; k < estimate.phases.size(); ++k) {
    const PhaseEstimate& phase = estimate.phases[k];
    for (const LeakSegment& segment : phase.leak.segments) {
      if (segment.cause == LeakCause::beard) beard += breath[k].share * segment.flow;
    }
    if (phase.under.tube) {
      crossing = &*phase.under.tube;
      tube += breath[k].share * phase.under.tube->channel.flow;
    }
    mouth += breath[k].share * phase.leak.mouth;
    port += breath[k].share * phase.leak.port;
  }
  const auto litres = [](double flow) {
    return fmt::format("{:.1f} L/min", units::to_l_per_min(flow));
  };
  std::vector<std::pair<double, std::string>> causes;
  if (input.beard) {
    causes.emplace_back(
        beard,
        fmt::format("beard ({}, {:g} mm) {}; a strip shaved beneath the rim ends it",
                    name_of(input.beard->region), input.beard->hair.length_mm, litres(beard)));
  }
  if (crossing != nullptr) {
    causes.emplace_back(
        tube, fmt::format("tube ({:g} Fr) {}; it presses the skin beneath it with {:.0f} mmHg",
                          input.tube->size_fr, litres(tube),
                          units::to_mmhg(crossing->channel.skin_pressure)));
  }
  if (mouth > 0) {
    causes.emplace_back(
        mouth, "open mouth " + litres(mouth) + "; a mask over nose and mouth holds it inside");
  }
  std::stable_sort(causes.begin(), causes.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  for (const auto& [flow, words] : causes) out.add(1, "Breaks the seal: " + words + ".");
  if (input.tube && crossing == nullptr) {
    out.add(2, input.tube->through_port
                   ? "The tube goes through the cushion's port, whose seal leaks about " +
                         litres(port) + "."
                   : "The tube crosses no pressed part of the rim as its path is given.");
  }
  if (input.dentures == Dentures::out) {
    out.add(3,
            "Dentures out: the face is taken with lips sunk in and a shorter chin (common "
            "practice, no source); dentures that fit tightly, worn, may help the seal.");
  }
}

// The site that sets when the mask comes off next. Injured skin has its caution already.
void add_skin(const Estimate& estimate, FindingLines& out) {
  if (estimate.skin.empty()) return;
  const SiteTolerance& row = most_urgent(estimate.skin);
  if (row.concern.level == Concern::injury) return;
  std::string text = fmt::format("Skin: concern {} at the {}: {}", name_of(row.concern.level),
                                 place_words(row.place), row.concern.reasons.front());
  if (!row.plan.words.empty()) text += " " + row.plan.words.front();
  out.add(2, text + " No curve is from facial skin; result.json has all.");
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

// Alarm limits as one rule teaches them, shown and never filled in.
void add_alarms(const Estimate& estimate, FindingLines& out) {
  static const auto practice = nlohmann::json::parse(data::settings_practice_json());
  const Settings& settings = estimate.input.settings;
  const double low =
      units::to_cmh2o(settings.expiratory) - practice.at("below_expiratory_cmH2O").get<double>();
  const double high =
      units::to_cmh2o(settings.inspiratory) + practice.at("above_inspiratory_cmH2O").get<double>();
  // To a hundredth: conversions leave dust in the last digits.
  const auto tidy = [](double value) { return std::round(100 * value) / 100; };
  out.add(4, fmt::format(fmt::runtime(practice.at("alarms").get<std::string>()),
                         fmt::arg("low", tidy(low)), fmt::arg("high", tidy(high))));
  out.add(5, practice.at("low_alarm").get<std::string>());
  const auto outside = [&](const char* range, double pressure) {
    const auto& ends = practice.at(range);
    const double cmh2o = tidy(units::to_cmh2o(pressure));
    return cmh2o < ends.at(0).get<double>() || cmh2o > ends.at(1).get<double>();
  };
  const bool unusual = settings.bilevel
                           ? outside("inspiratory_start_cmH2O", settings.inspiratory) ||
                                 outside("expiratory_start_cmH2O", settings.expiratory)
                           : outside("cpap_start_cmH2O", settings.expiratory);
  if (unusual) out.add(7, practice.at("outside").get<std::string>());
}

// The two hardest pressed in full, left and right together with the reason of the harder pressed
// side; the others by name.
void add_dressings(const Estimate& estimate, FindingLines& out) {
  const std::vector<DressingPlace>& places = estimate.dressing_places;
  if (places.empty()) {
    out.add(4, estimate.input.safety.injured_sites.empty()
                   ? "No site needs a dressing by the rule in use."
                   : "No site but those above is listed for a dressing by the rule in use.");
    return;
  }
  const auto size_of = [](const DressingPlace& place) {
    return fmt::format("{:.0f} x {:.0f} mm", place.length_mm, place.width_mm);
  };
  constexpr std::size_t most_in_full = 2;
  std::size_t n_in_full = 0;
  std::vector<SidedSite> others;
  for (auto place = places.begin(); place != places.end(); ++place) {
    const SidedSite twin_site{place->site.site, mirrored(place->site.side)};
    const auto is_twin = [&](const DressingPlace& each) { return each.site == twin_site; };
    const bool sided = place->site.side != Side::midline;
    if (sided && std::any_of(places.begin(), place, is_twin)) continue;
    const auto twin = sided ? std::find_if(place, places.end(), is_twin) : places.end();
    if (n_in_full == most_in_full) {
      others.push_back(place->site);
      if (twin != places.end()) others.push_back(twin_site);
      continue;
    }
    std::string what = place_words(place->site) + ", " + size_of(*place);
    if (twin != places.end()) {
      what = fmt::format("{} left and right, {}", words_for(place->site.site), size_of(*place));
      if (size_of(*twin) != size_of(*place)) what += " and " + size_of(*twin);
    }
    out.add(4, fmt::format("Dressing: {}: {}.", what, place->reason));
    ++n_in_full;
  }
  if (!others.empty()) {
    out.add(6, fmt::format("By the same rule, pressed less: {}; result.json has sizes and reasons.",
                           list_of(others)));
  }
  out.add(3,
          "A piece at one place lifts the rim there and can do harm: 'rimload dressing' solves the "
          "mask with it on.");
  out.add(3, published().at("dressings").at("text").get<std::string>());
}

}  // namespace

std::string finding(const Estimate& estimate) {
  FindingLines out;
  const Case& input = estimate.input;
  add_cautions(input, estimate.cautions, out);
  out.add(1, case_line(input));
  add_face_remarks(input, out);
  out.add(1, assumed_line("this cushion", input.cushion.assumed));
  if (!estimate.strap_note.empty()) out.add(6, "Straps: " + estimate.strap_note + ".");
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
  add_alarms(estimate, out);
  out.add(3, published().at("checks").at("text").get<std::string>());
  out.add(FindingLines::always, standing_line());
  return out.text();
}

}  // namespace rimload
