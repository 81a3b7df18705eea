#include "report/finding.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <vector>

#include "leak/seal_law.hpp"
#include "report_data.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

constexpr std::size_t max_lines = 25;
constexpr std::size_t max_columns = 100;

std::string place_of(const SidedSite& site) {
  if (site.side == Side::midline) return std::string(words_for(site.site));
  return fmt::format("{} {}", name_of(site.side), words_for(site.site));
}

// Breaks a paragraph into lines; all but the first are indented.
void add_wrapped(std::vector<std::string>& lines, const std::string& text) {
  std::string line;
  std::size_t start = 0;
  while (start < text.size()) {
    const std::size_t end = std::min(text.find(' ', start), text.size());
    const std::string word = text.substr(start, end - start);
    if (!line.empty() && line.size() + 1 + word.size() > max_columns) {
      lines.push_back(line);
      line = "  " + word;
    } else {
      line += (line.empty() ? "" : " ") + word;
    }
    start = end + 1;
  }
  if (!line.empty()) lines.push_back(line);
}

std::string not_checked(const Estimate& estimate) {
  std::string text;
  for (const Caution& caution : estimate.cautions) {
    if (caution.asked) continue;
    text += (text.empty() ? "" : "; ") + caution.text.substr(0, caution.text.find(": not checked"));
  }
  return text;
}

// The hardest pressed place under rim or pad over all phases, by sensor reading.
struct Worst {
  const PhaseEstimate* phase = nullptr;
  const SitePressure* site = nullptr;
};
Worst worst_of(const Estimate& estimate, bool straps) {
  Worst worst;
  for (const PhaseEstimate& phase : estimate.phases) {
    for (const SitePressure& site : phase.sites) {
      const bool strap =
          std::find(strap_sites.begin(), strap_sites.end(), site.site) != strap_sites.end();
      if (strap != straps || site.site == Site::eyelid || site.sensor <= 0) continue;
      if (worst.site == nullptr || site.sensor > worst.site->sensor) worst = {&phase, &site};
    }
  }
  return worst;
}

std::string published_beside(Site site) {
  static const auto table = nlohmann::json::parse(data::published_pressure_json());
  for (const auto& row : table.at("rows")) {
    if (row.at("site") != name_of(site)) continue;
    return fmt::format(" Measured there under {}: mean {:.0f} (SD {:.0f}) mmHg, n = {} ({}).",
                       row.at("what").get<std::string>(), row.at("mean_mmHg").get<double>(),
                       row.at("sd_mmHg").get<double>(), row.at("n").get<int>(),
                       row.at("source").get<std::string>());
  }
  return " No measured value is published for this site.";
}

std::string checks() {
  static const auto table = nlohmann::json::parse(data::published_pressure_json());
  return table.at("checks").at("text").get<std::string>();
}

std::string phase_line(const PhaseEstimate& phase) {
  const std::string head = fmt::format("{}, {:.4g} cmH2O:",
                                       phase.phase == Phase::continuous   ? "CPAP"
                                       : phase.phase == Phase::expiratory ? "Expiratory"
                                                                          : "Inspiratory",
                                       units::to_cmh2o(phase.state.gas_pressure));
  if (!phase.seated) return fmt::format("{} the mask does not seat: {}.", head, phase.reason);
  const std::string weakest =
      fmt::format("weakest at the {}, contact {:.1f} cmH2O {} the gas",
                  place_of(phase.seal.weakest_site),
                  std::abs(units::to_cmh2o(phase.seal.weakest_margin)),
                  phase.seal.weakest_margin >= 0 ? "above" : "below");
  if (phase.seal.sealed_fraction >= 1 - 1e-9) {
    return fmt::format("{} seats and seals all round; {}.", head, weakest);
  }
  return fmt::format("{} seats; {:.0f} % of the rim seals, leak {:.1f} L/min; {}.", head,
                     100 * phase.seal.sealed_fraction, units::to_l_per_min(phase.leak.total),
                     weakest);
}

std::string leak_line(const Estimate& estimate) {
  const PhaseEstimate& phase = estimate.phases.back();  // highest gas pressure
  const double mean = units::to_l_per_min(estimate.breath_mean_leak);
  std::string text;
  if (phase.leak.segments.empty()) {
    text = fmt::format("First leak, if the straps ease or the pressure rises: {}.",
                       place_of(phase.seal.weakest_site));
  } else {
    const LeakSegment& first = phase.leak.segments.front();
    text = fmt::format("Leak: {} ({}), {:.1f} L/min there; {:.1f} L/min as the breath's mean.",
                       place_of(first.site), words_for(first.direction),
                       units::to_l_per_min(first.flow), mean);
  }
  if (mean > estimate.input.leak_limit_l_min) {
    text += fmt::format(" That is above the limit set, {:g} L/min.", estimate.input.leak_limit_l_min);
  }
  return text;
}

void add_pressure(std::vector<std::string>& lines, const Estimate& estimate) {
  const Worst worst = worst_of(estimate, false);
  if (worst.site == nullptr) return;
  const double need =
      units::to_mmhg(estimate.input.settings.inspiratory + seal_law().sealed_above);
  add_wrapped(lines,
              fmt::format("Most pressed: {}, {:.0f} mmHg as a 1 cm2 sensor reads it ({}), peak {:.0f} "
                          "mmHg; sealing needs {:.0f} mmHg.{}",
                          place_of({worst.site->site, worst.site->side}),
                          units::to_mmhg(worst.site->sensor), name_of(worst.phase->phase),
                          units::to_mmhg(worst.site->peak), need,
                          published_beside(worst.site->site)));
  const Worst strap = worst_of(estimate, true);
  if (strap.site != nullptr) {
    add_wrapped(lines, fmt::format("Under the straps: at most {:.0f} mmHg, {}.",
                                   units::to_mmhg(strap.site->sensor),
                                   place_of({strap.site->site, strap.site->side})));
  }
  for (const SitePressure& site : worst.phase->sites) {
    if (site.site == Site::eyelid && site.contact_area > 0) {
      add_wrapped(lines, fmt::format("The rim touches the {} eyelid: move or change the mask.",
                                     name_of(site.side)));
    }
  }
}

}  // namespace

std::string finding(const Estimate& estimate) {
  std::vector<std::string> lines;
  const Case& input = estimate.input;
  for (const Caution& caution : estimate.cautions) {
    if (caution.stop && caution.asked) add_wrapped(lines, "STOP: " + caution.text);
  }
  if (const std::string open = not_checked(estimate); !open.empty()) {
    add_wrapped(lines, "Not checked: " + open + ".");
  }
  add_wrapped(lines, fmt::format("{}: {} {} on the face '{}'{}.", input.name, input.cushion.name,
                                 input.cushion.size, input.face.name,
                                 input.face.symmetric ? " (symmetry assumed)" : ""));
  if (!estimate.strap_note.empty()) add_wrapped(lines, "Straps: " + estimate.strap_note + ".");
  bool all_seated = true;
  for (const PhaseEstimate& phase : estimate.phases) {
    add_wrapped(lines, phase_line(phase));
    all_seated = all_seated && phase.seated;
  }
  add_pressure(lines, estimate);
  if (all_seated) add_wrapped(lines, leak_line(estimate));
  const std::size_t tail = 3;
  std::size_t left_out = 0;
  for (const DressingPlace& place : estimate.dressing_places) {
    std::vector<std::string> block;
    add_wrapped(block, fmt::format("Dressing: {}, {:.0f} x {:.0f} mm: {}.", place_of(place.site),
                                   place.length_mm, place.width_mm, place.reason));
    if (lines.size() + block.size() + tail > max_lines) {
      ++left_out;
    } else {
      lines.insert(lines.end(), block.begin(), block.end());
    }
  }
  if (left_out > 0) {
    lines.push_back(fmt::format("{} more dressing places are in result.json.", left_out));
  }
  if (all_seated && estimate.dressing_places.empty()) {
    lines.emplace_back("No site needs a dressing by the rule in use.");
  }
  add_wrapped(lines, checks());
  lines.emplace_back(
      "A planning and teaching aid, not a medical device; local policy and licensed practice first.");
  std::string out;
  for (const std::string& line : lines) out += line + "\n";
  return out;
}

}  // namespace rimload
