#include "report/strap_table.hpp"

#include <fmt/format.h>

#include <cmath>
#include <iterator>
#include <nlohmann/json.hpp>

#include "fit/breath.hpp"
#include "fit/caution.hpp"
#include "leak/seal_law.hpp"
#include "report/finding_cautions.hpp"
#include "report/finding_lines.hpp"
#include "report_data.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

// How far the stiffness of a worn band may lie from the catalogue's: assumed.
constexpr double stiffness_spread = 1.0 / 3;

std::string practice(const char* key) {
  static const auto table = nlohmann::json::parse(data::strap_practice_json());
  return table.at(key).get<std::string>();
}

std::string column_of(const SitePressure& site) {
  return fmt::format("{}{}_mmHg", name_of(site.site),
                     site.side == Side::midline ? "" : fmt::format("_{}", name_of(site.side)));
}

const StrapPoint* first_seated(const StrapSweep& sweep) {
  for (const auto* points : {&sweep.equal, &sweep.split}) {
    for (const StrapPoint& point : *points) {
      if (point.seated) return &point;
    }
  }
  return nullptr;
}

void add_row(std::string& out, const char* sweep, const StrapPoint& point,
             const StrapReport& report, std::size_t n_phases, std::size_t n_sites) {
  const auto into = std::back_inserter(out);
  fmt::format_to(into, "{},{},{},{}", sweep, point.upper_n, point.lower_n,
                 strap_travel_mm(report.mask, point.mean_n(report.mask)));
  if (!point.seated) {
    out += ",no" + std::string(3 + n_phases + n_sites, ',') + "\n";
    return;
  }
  fmt::format_to(into, ",yes,{},{}", units::to_cmh2o(point.least_margin),
                 place_words(point.weakest_site));
  for (const double leak : point.leak) fmt::format_to(into, ",{}", units::to_l_per_min(leak));
  fmt::format_to(into, ",{}", units::to_l_per_min(point.mean_leak));
  for (const SitePressure& site : point.sites) {
    fmt::format_to(into, ",{}", units::to_mmhg(site.sensor));
  }
  out += "\n";
}

std::string travel_words(const Mask& mask, double tension_n) {
  const double travel = strap_travel_mm(mask, tension_n);
  return fmt::format(
      "{:.0f} mm of strap from slack, {:.0f} to {:.0f} where the bands' stiffness is a third off",
      travel, travel / (1 + stiffness_spread), travel / (1 - stiffness_spread));
}

// The swept point next to a tension.
const StrapPoint* nearest_point(const StrapReport& report, double tension_n) {
  const StrapPoint* best = nullptr;
  for (const StrapPoint& point : report.sweep.equal) {
    if (!point.seated) continue;
    if (best == nullptr || std::abs(point.mean_n(report.mask) - tension_n) <
                               std::abs(best->mean_n(report.mask) - tension_n)) {
      best = &point;
    }
  }
  return best;
}

void add_upper_edge(const StrapReport& report, FindingLines& out) {
  const StrapWindow& window = report.sweep.window;
  const double mm = strap_travel_mm(report.mask, window.upper_n - window.sealing_n);
  switch (window.upper_end) {
    case WindowEnd::tension_limit:
      out.add(1, fmt::format("Upper edge: none up to {:g} N; no site gets {:.0f} % harder pressed "
                             "than at just sealed.",
                             strap_tension_limit_n, 100 * (window_rise - 1)));
      return;
    case WindowEnd::user_limit:
      out.add(1, fmt::format("Too tight from {:.1f} N: the {} passes the limit set, {:g} mmHg.",
                             window.upper_n, place_words(window.upper_site),
                             report.input.dressing_rule.sensor_above_mmhg));
      break;
    case WindowEnd::site_rise:
      out.add(1,
              fmt::format("Too tight from {:.1f} N: the {} is pressed {:.0f} % harder than at "
                          "just sealed (a convention of this project, no published limit).",
                          window.upper_n, place_words(window.upper_site), 100 * (window_rise - 1)));
      break;
  }
  if (window.upper_n > window.sealing_n) {
    out.add(1, fmt::format("The window is {:.1f} N a strap wide, or {:.0f} mm of strap.",
                           window.upper_n - window.sealing_n, mm));
  } else {
    out.add(1, "There is no window: what seals is too tight already.");
  }
}

void add_unsealed(const StrapReport& report, FindingLines& out) {
  const StrapWindow& window = report.sweep.window;
  out.add(FindingLines::always,
          fmt::format("No equal tension up to {:g} N a strap seals.", strap_tension_limit_n));
  const StrapPoint* best = nearest_point(report, window.best_effort_n);
  if (best == nullptr) {
    out.add(1, "The mask does not seat at any tension.");
    return;
  }
  const double lacking = units::to_cmh2o(seal_law().sealed_above - best->least_margin);
  out.add(1, fmt::format("Nearest at {:.1f} N: the {} lacks {:.1f} cmH2O, mean leak {:.1f} L/min.",
                         best->mean_n(report.mask), place_words(best->weakest_site), lacking,
                         units::to_l_per_min(best->mean_leak)));
}

void add_optimum(const StrapReport& report, FindingLines& out) {
  const auto& best = report.sweep.optimum;
  if (!best) return;
  const double gain = 1 - best->worst / best->equal_worst;
  constexpr double worth_telling = 0.03;
  if (gain < worth_telling) {
    out.add(4,
            "Upper against lower straps: none that just seals presses the worst site less than "
            "all alike.");
    return;
  }
  out.add(
      4, fmt::format("Upper straps at {:.1f} N and lower at {:.1f} N just seal too, with {:.0f} "
                     "instead of {:.0f} mmHg at the worst site, then the {} ({:.0f} % less).",
                     best->upper_n, best->lower_n, units::to_mmhg(best->worst),
                     units::to_mmhg(best->equal_worst), place_words(best->worst_site), 100 * gain));
}

void add_pressure_at(const StrapReport& report, FindingLines& out) {
  const StrapPoint* point = nearest_point(report, report.sweep.window.sealing_n);
  if (point == nullptr) return;
  const SitePressure* worst = nullptr;
  for (const SitePressure& site : point->sites) {
    if (site.site == Site::eyelid) continue;
    if (worst == nullptr || site.sensor > worst->sensor) worst = &site;
  }
  out.add(2, fmt::format("Just sealed, the {} is pressed hardest: {:.0f} mmHg over 1 cm2.",
                         place_words({worst->site, worst->side}), units::to_mmhg(worst->sensor)));
  const double leak = units::to_l_per_min(point->mean_leak);
  if (leak > report.input.leak_target_l_min) {
    out.add(1, fmt::format("Yet the mean leak there is {:.1f} L/min, above the target, {:g}: what "
                           "breaks the seal (hair, tube, mouth) is not ended by tightening.",
                           leak, report.input.leak_target_l_min));
  }
}

}  // namespace

std::string strap_csv(const StrapReport& report) {
  const auto phases = phases_of(report.input.settings);
  const StrapPoint* some = first_seated(report.sweep);
  std::string out = "sweep,upper_N,lower_N,travel_mm,seated,least_margin_cmH2O,weakest_site";
  for (const PhaseOfBreath& breath : phases) {
    out += fmt::format(",leak_{}_L_min", name_of(breath.phase));
  }
  out += ",leak_mean_L_min";
  if (some != nullptr) {
    for (const SitePressure& site : some->sites) out += "," + column_of(site);
  }
  out += "\n";
  const std::size_t n_sites = some != nullptr ? some->sites.size() : 0;
  for (const StrapPoint& point : report.sweep.equal) {
    add_row(out, "equal", point, report, phases.size(), n_sites);
  }
  for (const StrapPoint& point : report.sweep.split) {
    add_row(out, "split", point, report, phases.size(), n_sites);
  }
  return out;
}

std::string strap_finding(const StrapReport& report) {
  const Case& input = report.input;
  const StrapWindow& window = report.sweep.window;
  FindingLines out;
  add_cautions(input, cautions_for(input), out);
  out.add(1, "Straps: " + case_line(input));
  if (window.seals) {
    out.add(FindingLines::always,
            fmt::format("Seals from {:.1f} N a strap with all alike ({}).", window.sealing_n,
                        travel_words(report.mask, window.sealing_n)));
    add_upper_edge(report, out);
    add_pressure_at(report, out);
    add_optimum(report, out);
  } else {
    add_unsealed(report, out);
  }
  if (report.sweep.leaks_again_n) {
    out.add(1, fmt::format("It leaks again at {:.1f} N: tightening tips the mask.",
                           *report.sweep.leaks_again_n));
  }
  for (const std::string& change : report.changes) out.add(3, change);
  out.add(3, practice("order"));
  out.add(3, practice("finger"));
  out.add(2, practice("crease"));
  out.add(5, practice("wideners"));
  out.add(FindingLines::always, standing_line());
  return out.text();
}

}  // namespace rimload
