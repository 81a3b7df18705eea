#include "report/strap_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <nlohmann/json.hpp>

#include "fit/breath.hpp"
#include "fit/caution.hpp"
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

// What the user's limit asks, in words.
std::string limit_words(const StrapReport& report) {
  return fmt::format("{:g} mmHg", report.input.dressing_rule.sensor_above_mmhg);
}

// Sensor reading of a site [mmHg].
double reading_at(const BreathReading& reading, const SidedSite& site) {
  for (const SitePressure& each : reading.sites) {
    if (each.site == site.site && each.side == site.side) return units::to_mmhg(each.sensor);
  }
  return 0;
}

// How far what just seals is from a window, and whether separate straps open one.
void add_no_window(const StrapReport& report, FindingLines& out) {
  const StrapSweep& sweep = report.sweep;
  const double limit = report.input.dressing_rule.sensor_above_mmhg;
  const SidedSite site = sweep.window.upper_site;
  const double here = reading_at(sweep.edge, site);
  out.add(
      FindingLines::always,
      fmt::format("There is no window: just sealed, the {} reads {:.0f} mmHg, {:.0f} mmHg above "
                  "the limit set, {}.",
                  place_words(site), here, std::ceil(here - limit), limit_words(report)));
  if (!sweep.optimum) return;
  const double best = units::to_mmhg(sweep.optimum->worst.sensor);
  out.add(1, best < limit
                 ? fmt::format("Straps set apart as below open it: {:.0f} mmHg at most.", best)
                 : fmt::format("Nor do straps set apart open it: at best {:.0f} mmHg, at the {}.",
                               best, place_words(sweep.optimum->worst.site)));
}

void add_upper_edge(const StrapReport& report, FindingLines& out) {
  const StrapWindow& window = report.sweep.window;
  const double rise = 100 * (window_rise - 1);
  const bool limited = report.input.dressing_rule.sensor_above_mmhg > 0;
  if (window.upper_end == WindowEnd::tension_limit) {
    out.add(1, limited ? fmt::format("Upper edge: none up to {:g} N; no site passes the limit set, "
                                     "{}.",
                                     strap_tension_limit_n, limit_words(report))
                       : fmt::format("Upper edge: none up to {:g} N; no site gets {:.0f} % harder "
                                     "pressed than at just sealed.",
                                     strap_tension_limit_n, rise));
    return;
  }
  if (limited && window.upper_n <= window.sealing_n) {
    add_no_window(report, out);
    return;
  }
  if (limited) {
    out.add(1, fmt::format("Too tight from {:.1f} N: the {} passes the limit set, {}.",
                           window.upper_n, place_words(window.upper_site), limit_words(report)));
  } else {
    out.add(1,
            fmt::format("Too tight from {:.1f} N: the {} is pressed {:.0f} % harder than at just "
                        "sealed (a convention of this project, no published limit; sites that read "
                        "less than half of the largest then don't count).",
                        window.upper_n, place_words(window.upper_site), rise));
  }
  const double wide = window.upper_n - window.sealing_n;
  out.add(1, fmt::format("The window is {:.1f} N a strap wide, or {:.0f} mm of strap.", wide,
                         strap_travel_mm(report.mask, wide)));
}

void add_unsealed(const StrapReport& report, FindingLines& out) {
  const StrapPoint& best = report.sweep.edge;
  out.add(FindingLines::always,
          fmt::format("No equal tension up to {:g} N a strap seals.", strap_tension_limit_n));
  if (!best.seated) {
    out.add(1, "The mask does not seat at any tension.");
    return;
  }
  const double lacking = units::to_cmh2o(report.input.sealed_above - best.least_margin);
  out.add(1, fmt::format("Nearest at {:.1f} N: the {} lacks {:.1f} cmH2O, mean leak {:.1f} L/min.",
                         best.mean_n(report.mask), place_words(best.weakest_site), lacking,
                         units::to_l_per_min(best.mean_leak)));
}

// "Upper straps at 3.1 N and lower at 3.5 N", or the straps one by one where left and right differ.
std::string tensions_in_words(const StrapReport& report, const StrapOptimum& best) {
  const std::vector<Strap>& straps = report.mask.straps;
  constexpr double alike_n = 0.005;
  std::string pairs;
  std::string singles;
  bool alike = true;
  for (const bool upper : {true, false}) {
    std::vector<double> left;
    std::vector<double> right;
    for (std::size_t k = 0; k < straps.size(); ++k) {
      if (is_upper(report.mask, straps[k]) != upper) continue;
      (is_left(straps[k]) ? left : right).push_back(best.tension_n[k]);
    }
    const char* const name = upper ? "upper" : "lower";
    const char* const join = singles.empty() ? "" : ", ";
    if (left.empty() || right.empty()) continue;
    alike = alike && std::abs(left.front() - right.front()) < alike_n;
    pairs += fmt::format("{}{} at {:.1f} N", join, name, left.front());
    singles += fmt::format("{}{} left at {:.1f}, right at {:.1f} N", join, name, left.front(),
                           right.front());
  }
  return alike ? pairs : singles;
}

void add_optimum(const StrapReport& report, FindingLines& out) {
  const auto& best = report.sweep.optimum;
  if (!best) return;
  const double gain = 1 - best->worst.sensor / best->equal_worst;
  const double limit = units::from_mmhg(report.input.dressing_rule.sensor_above_mmhg);
  const bool no_window = limit > 0 && best->equal_worst > limit;
  const bool opens = no_window && best->worst.sensor < limit;
  constexpr double worth_telling = 0.03;
  if (gain < worth_telling && !opens) {
    if (no_window) return;  // that they don't open it is said already
    out.add(4,
            "Separate straps: no setting found that just seals presses the worst site noticeably "
            "less than all alike.");
    return;
  }
  out.add(
      4, fmt::format("Separate straps, {}, just seal too, with {:.0f} instead of {:.0f} mmHg "
                     "at the worst site, then the {} ({:.0f} % less).",
                     tensions_in_words(report, *best), units::to_mmhg(best->worst.sensor),
                     units::to_mmhg(best->equal_worst), place_words(best->worst.site), 100 * gain));
}

// What of a case leaks however tight the straps are: "hair and tube"; empty when nothing does.
std::string breakers_of(const Case& input) {
  std::vector<std::string> names;
  if (input.beard) names.emplace_back("hair");
  if (input.tube) names.emplace_back(input.tube->through_port ? "the tube's port" : "the tube");
  if (input.cushion.type == CushionType::nasal && input.mouth != MouthOpening::closed) {
    names.emplace_back("the mouth");
  }
  std::string out;
  for (const std::string& name : names) out += (out.empty() ? "" : ", ") + name;
  return out;
}

void add_pressure_at(const StrapReport& report, FindingLines& out) {
  const StrapPoint& point = report.sweep.edge;
  if (!point.seated) return;
  const WorstContact worst = worst_that_counts(point, report.input);
  out.add(2, fmt::format("Just sealed, the {} is pressed hardest: {:.0f} mmHg over 1 cm2.",
                         place_words(worst.site), units::to_mmhg(worst.sensor)));
  const double leak = units::to_l_per_min(point.mean_leak);
  const std::string breakers = breakers_of(report.input);
  if (leak > report.input.leak_target_l_min && !breakers.empty()) {
    out.add(1, fmt::format("Yet the mean leak there is {:.1f} L/min, above the target, {:g}: what "
                           "leaks ({}) is not ended by tightening.",
                           leak, report.input.leak_target_l_min, breakers));
  }
}

void add_worn(const StrapReport& report, FindingLines& out) {
  if (report.input.worn.empty()) return;
  std::string on;
  for (const WornPiece& piece : report.worn) {
    on += fmt::format("{}{} at the {}", on.empty() ? "" : ", ", piece.dressing.name,
                      place_words(piece.place.site));
  }
  std::string off;
  for (const WornDressing& each : report.input.worn) {
    const bool is_on =
        std::any_of(report.worn.begin(), report.worn.end(), [&](const WornPiece& piece) {
          return piece.place.site == each.site && piece.dressing.name == each.dressing.name;
        });
    if (is_on) continue;
    off += fmt::format("{}{} at the {}", off.empty() ? "" : ", ", each.dressing.name,
                       place_words(each.site));
  }
  if (!on.empty()) out.add(1, "With dressings on: " + on + ". Readings are of the skin beneath.");
  if (!off.empty()) {
    out.add(1, "Left aside: " + off + ", where the mask does not press at the case's straps.");
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
  add_worn(report, out);
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
  out.add(FindingLines::always, standing_line());
  return out.text();
}

}  // namespace rimload
