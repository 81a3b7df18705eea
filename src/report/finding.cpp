#include "report/finding.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <utility>
#include <vector>

#include "fit/caution.hpp"
#include "leak/seal_law.hpp"
#include "report/finding_lines.hpp"
#include "report_data.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

const nlohmann::json& published() {
  static const auto table = nlohmann::json::parse(data::published_pressure_json());
  return table;
}

std::string place_of(const SidedSite& site) {
  if (site.side == Side::midline) return std::string(words_for(site.site));
  return fmt::format("{} {}", name_of(site.side), words_for(site.site));
}

// A name a user chose, on one line and short enough for it; never cut within a character of UTF-8.
std::string clipped(std::string name) {
  constexpr std::size_t longest = 50;
  std::replace_if(
      name.begin(), name.end(), [](unsigned char c) { return c < ' '; }, ' ');
  if (name.size() <= longest) return name;
  std::size_t end = longest - 3;
  while (end > 0 && (static_cast<unsigned char>(name[end]) & 0xC0) == 0x80) --end;
  return name.substr(0, end) + "...";
}

// Places of skin in words, left and right of a site taken together.
std::string list_of(const std::vector<SidedSite>& places) {
  std::string text;
  std::vector<Site> said;
  for (const SidedSite& place : places) {
    if (std::find(said.begin(), said.end(), place.site) != said.end()) continue;
    said.push_back(place.site);
    const bool twin = std::find(places.begin(), places.end(),
                                SidedSite{place.site, mirrored(place.side)}) != places.end();
    const bool both = place.side != Side::midline && twin;
    text += (text.empty() ? "" : ", ") +
            (both ? std::string(words_for(place.site)) + " (left and right)" : place_words(place));
  }
  return text;
}

// What must be settled before the mask goes on; injured places in one sentence.
void add_stops(const Estimate& estimate, FindingLines& out) {
  const std::vector<SidedSite>& injured = estimate.input.safety.injured_sites;
  bool skin_said = false;
  for (const Caution& caution : estimate.cautions) {
    if (!caution.stop || !caution.asked) continue;
    std::string text = caution.text;
    if (caution.key == "injured_skin" && !injured.empty()) {
      if (std::exchange(skin_said, true)) continue;
      const std::string first = place_words(injured.front());
      const std::size_t at = text.find(first);
      if (at != std::string::npos) text.replace(at, first.size(), list_of(injured));
    }
    out.add(FindingLines::always, "STOP: " + text);
  }
}

void add_not_checked(const Estimate& estimate, FindingLines& out) {
  std::string text;
  for (const Caution& caution : estimate.cautions) {
    if (caution.asked) continue;
    text += (text.empty() ? "" : "; ") + caution.text.substr(0, caution.text.find(": not checked"));
  }
  if (!text.empty()) out.add(FindingLines::always, "Not checked: " + text + ".");
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
      fmt::format("weakest at the {}, {}", place_of(phase.seal.weakest_site),
                  phase.seal.stations[phase.seal.weakest_station].least_gap_mm > 0
                      ? "which does not touch"
                      : fmt::format("contact {:.1f} cmH2O {} the gas", std::abs(margin),
                                    margin >= 0 ? "above" : "below"));
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
      const bool strap =
          std::find(strap_sites.begin(), strap_sites.end(), site.site) != strap_sites.end();
      if (strap != (under == Under::straps)) continue;
      if (site.site == Site::eyelid || site.sensor <= 0) continue;
      if (worst.site == nullptr || site.sensor > worst.site->sensor) worst = {&phase, &site};
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
                         place_of({worst.site->site, worst.site->side}),
                         units::to_mmhg(worst.site->sensor), units::to_mmhg(worst.site->peak), when,
                         need, published_beside(worst.site->site)));
  const Worst strap = worst_of(estimate, Under::straps);
  if (strap.site == nullptr) return;
  out.add(7, fmt::format("Hardest strap: {}, {:.0f} mmHg.",
                         place_of({strap.site->site, strap.site->side}),
                         units::to_mmhg(strap.site->sensor)));
}

// The first leak is at the weakest station of the phase of highest gas pressure, sealed or not.
void add_leak(const Estimate& estimate, FindingLines& out) {
  const PhaseEstimate& phase = estimate.phases.back();
  const std::vector<LeakSegment>& segments = phase.leak.segments;
  const double mean = units::to_l_per_min(estimate.breath_mean_leak);
  const SidedSite weakest = phase.seal.weakest_site;
  if (segments.empty()) {
    out.add(1, fmt::format("First leak, if straps ease or pressure rises: {}.", place_of(weakest)));
    return;
  }
  const auto first = std::find_if(segments.begin(), segments.end(),
                                  [&](const LeakSegment& each) { return each.site == weakest; });
  std::string text = fmt::format("First leak: {}", place_of(weakest));
  if (first != segments.end()) {
    text += fmt::format(", {:.1f} L/min {}", units::to_l_per_min(first->flow),
                        words_for(first->direction));
  }
  text += fmt::format(". Mean over the breath {:.1f} L/min, {} the limit set, {:g} L/min.", mean,
                      mean > estimate.input.leak_limit_l_min ? "above" : "within",
                      estimate.input.leak_limit_l_min);
  out.add(1, text);
  const LeakSegment& front = segments.front();
  if (front.direction == JetDirection::left_eye || front.direction == JetDirection::right_eye) {
    out.add(1, fmt::format("A jet blows {}, from the {}: it dries the eye.",
                           words_for(front.direction), place_of(front.site)));
  }
}

// One line a site, left and right together, with the reason of the harder pressed side.
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
  int priority = 4;
  for (auto place = places.begin(); place != places.end(); ++place) {
    const SidedSite twin_site{place->site.site, mirrored(place->site.side)};
    const auto is_twin = [&](const DressingPlace& each) { return each.site == twin_site; };
    const bool sided = place->site.side != Side::midline;
    if (sided && std::any_of(places.begin(), place, is_twin)) continue;
    const auto twin = sided ? std::find_if(place, places.end(), is_twin) : places.end();
    std::string what = place_of(place->site) + ", " + size_of(*place);
    if (twin != places.end()) {
      what = fmt::format("{} left and right, {}", words_for(place->site.site), size_of(*place));
      if (size_of(*twin) != size_of(*place)) what += " and " + size_of(*twin);
    }
    out.add(priority, fmt::format("Dressing: {}: {}.", what, place->reason));
    priority = std::min(priority + 1, 6);
  }
  out.add(3, published().at("dressings").at("text").get<std::string>());
}

}  // namespace

std::string finding(const Estimate& estimate) {
  FindingLines out;
  const Case& input = estimate.input;
  add_stops(estimate, out);
  add_not_checked(estimate, out);
  out.add(1,
          fmt::format("{}: {}, size {}, on the face '{}'{}.", clipped(input.name),
                      clipped(input.cushion.name), clipped(input.cushion.size),
                      clipped(input.face.name), input.face.symmetric ? " (symmetry assumed)" : ""));
  if (!estimate.strap_note.empty()) out.add(6, "Straps: " + estimate.strap_note + ".");
  bool all_seated = true;
  for (const PhaseEstimate& phase : estimate.phases) {
    out.add(FindingLines::always, seat_and_seal(phase));
    all_seated = all_seated && phase.seated;
  }
  add_eyelids(estimate, out);
  add_pressure(estimate, out);
  if (all_seated) {
    add_leak(estimate, out);
    add_dressings(estimate, out);
  }
  out.add(3, published().at("checks").at("text").get<std::string>());
  out.add(FindingLines::always,
          "A planning and teaching aid, not a medical device; local policy and licensed practice "
          "first.");
  return out.text();
}

}  // namespace rimload
