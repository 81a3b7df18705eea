#include "report/size_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <utility>
#include <vector>

#include "fit/caution.hpp"
#include "fit/scan_draw.hpp"
#include "report/finding_cautions.hpp"
#include "report/finding_lines.hpp"
#include "report/rotation_table.hpp"
#include "report/size_rule_words.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

std::string label_of(const SizeCandidate& candidate) {
  return candidate.cushion.name + " " + candidate.cushion.size;
}

std::string joined(const std::vector<std::string>& parts) {
  std::string out;
  for (const std::string& part : parts) out += (out.empty() ? "" : "; ") + part;
  return out;
}

std::string in_cell(const std::string& text) { return '"' + text + '"'; }

std::string near_words(const SizeCandidate& candidate) {
  std::vector<std::string> out;
  for (const Clearance& clearance : candidate.too_near) out.push_back(words_for(clearance));
  return joined(out);
}

std::string band_cells(const std::optional<ValueBand>& band, double (*unit)(double)) {
  if (!band) return ",,,";
  return fmt::format(",{},{},{}", unit(band->low), unit(band->median), unit(band->high));
}

void add_row(std::string& out, const SizeCandidate& candidate) {
  const auto into = std::back_inserter(out);
  const Cushion& cushion = candidate.cushion;
  fmt::format_to(into, "{},{},{},{},{}",
                 candidate.rank ? std::to_string(*candidate.rank) : std::string(), cushion.name,
                 cushion.size, name_of(cushion.type), in_cell(joined(candidate.excluded)));
  if (candidate.window.seals) {
    fmt::format_to(into, ",{},{}", candidate.window.sealing_n, candidate.window.upper_n);
  } else {
    out += ",,";
  }
  if (candidate.estimate) {
    fmt::format_to(into, ",{},{},{},{},{}", units::to_mmhg(candidate.worst.sensor),
                   place_words(candidate.worst.site),
                   units::to_l_per_min(candidate.estimate->breath_mean_leak),
                   candidate.estimate->dressing_places.size(), in_cell(near_words(candidate)));
  } else {
    out += ",,,,,";
  }
  out += candidate.draws.empty() ? "," : fmt::format(",{}", candidate.seals_share);
  out += band_cells(candidate.worst_band, units::to_mmhg);
  out += band_cells(candidate.leak_band, units::to_l_per_min);
  out += band_cells(candidate.sealing_band, [](double newton) { return newton; });
  out += "," + in_cell(words_for(cushion.assumed)) + "\n";
}

std::string line_of(const SizeRule& rule, const SizeCandidate& candidate, bool tie) {
  std::string out =
      fmt::format("{}{}. {} ({}): {:.0f} mmHg at the {}", tie ? "=" : "", *candidate.rank,
                  label_of(candidate), words_for(candidate.cushion.type),
                  units::to_mmhg(candidate.median_worst()), place_words(candidate.worst.site));
  if (candidate.worst_band) {
    out += fmt::format(" ({:.0f} to {:.0f})", units::to_mmhg(candidate.worst_band->low),
                       units::to_mmhg(candidate.worst_band->high));
  }
  out += fmt::format(", just seals at {:.1f} N a strap", candidate.window.sealing_n);
  if (!candidate.draws.empty()) {
    out += fmt::format(", seals in {:.0f} % of the draws", 100 * candidate.seals_share);
  }
  if (rule.rank_by == SizeMeasure::window) {
    out += fmt::format(", window {:.1f} N wide",
                       candidate.window.upper_n - candidate.window.sealing_n);
  }
  const double leak = units::to_l_per_min(candidate.median_leak());
  constexpr double least_l_min = 0.1;
  if (leak >= least_l_min || rule.rank_by == SizeMeasure::leak) {
    out += fmt::format(", leaks {:.1f} L/min{}", leak,
                       candidate.leaks_too_much ? " (above the limit)" : "");
  }
  const std::size_t n = candidate.estimate->dressing_places.size();
  if (n > 0) out += fmt::format(", {} place{} for a dressing by the rule", n, n == 1 ? "" : "s");
  if (!candidate.too_near.empty()) out += ". " + near_words(candidate);
  return out + (out.back() == '.' ? "" : ".");
}

std::string driver_words(const std::vector<DriverShare>& drivers) {
  std::string out;
  constexpr std::size_t most = 3;
  for (std::size_t k = 0; k < std::min(most, drivers.size()); ++k) {
    out += fmt::format("{}{} ({:+.2f})", k == 0 ? "" : ", ", words_for(drivers[k].driver),
                       drivers[k].correlation);
  }
  return out;
}

// Cushions of which the same is assumed in one sentence.
void add_assumed(const SizeChoice& choice, FindingLines& out) {
  std::vector<std::pair<std::vector<CushionField>, std::string>> groups;
  for (const SizeCandidate& candidate : choice.candidates) {
    const auto& assumed = candidate.cushion.assumed;
    if (assumed.empty()) continue;
    const auto same = std::find_if(groups.begin(), groups.end(),
                                   [&](const auto& each) { return each.first == assumed; });
    if (same != groups.end()) {
      same->second += ", " + label_of(candidate);
    } else {
      groups.emplace_back(assumed, label_of(candidate));
    }
  }
  for (const auto& [assumed, which] : groups) out.add(2, assumed_line(which, assumed));
}

}  // namespace

std::string size_csv(const SizeChoice& choice) {
  std::string out =
      "rank,cushion,size,type,left_out,sealing_N,window_upper_N,worst_mmHg,worst_site,leak_L_min,"
      "dressing_places,too_near,seals_share,worst_p10_mmHg,worst_p50_mmHg,worst_p90_mmHg,"
      "leak_p10_L_min,leak_p50_L_min,leak_p90_L_min,sealing_p10_N,sealing_p50_N,sealing_p90_N,"
      "assumed\n";
  for (const SizeCandidate& candidate : choice.candidates) add_row(out, candidate);
  return out;
}

std::string size_finding(const SizeChoice& choice, const std::vector<RotationPair>& rotation) {
  FindingLines out(FindingLines::max_lines, "sizes.csv");
  const Case& input = choice.input;
  const SizeRule& rule = choice.rule;
  out.add(1, fmt::format("{}: {} cushions of the catalogue on the face '{}'.", input.name,
                         choice.candidates.size(), input.face.name));
  out.add(2, "Rule: " + rule_words(rule, input.leak_limit_l_min) + " " + rule_source_words(rule));
  if (std::any_of(choice.candidates.begin(), choice.candidates.end(),
                  [](const SizeCandidate& candidate) { return !candidate.draws.empty(); })) {
    out.add(2, scan_draw_words(input));
  }
  if (!choice.any_fits) {
    out.add(FindingLines::always, "No cushion fits. To try: " + joined(choice.advice) + ".");
  }
  int priority = 1;
  std::vector<std::string> leaky;
  std::vector<std::pair<std::string, std::string>> left_out;  // why, and which
  for (std::size_t k = 0; k < choice.candidates.size(); ++k) {
    const SizeCandidate& candidate = choice.candidates[k];
    if (candidate.rank) {
      const auto shares_rank = [&](std::size_t other) {
        return other < choice.candidates.size() && choice.candidates[other].rank == candidate.rank;
      };
      out.add(priority,
              line_of(rule, candidate, (k > 0 && shares_rank(k - 1)) || shares_rank(k + 1)));
      priority = std::min(priority + 1, 9);
    } else if (candidate.excluded.empty()) {
      leaky.push_back(label_of(candidate));
    } else {
      const std::string why = joined(candidate.excluded);
      const auto same = std::find_if(left_out.begin(), left_out.end(),
                                     [&](const auto& each) { return each.first == why; });
      if (same != left_out.end()) {
        same->second += ", " + label_of(candidate);
      } else {
        left_out.emplace_back(why, label_of(candidate));
      }
    }
  }
  if (!leaky.empty()) out.add(3, "Don't seal or seat: " + joined(leaky) + ".");
  for (const auto& [why, which] : left_out) {
    out.add(2, fmt::format("Left out, {}: {}.", which, why));
  }
  add_assumed(choice, out);
  if (!choice.drivers.empty()) {
    out.add(5, "What moves the first one's worst reading most (rank correlation): " +
                   driver_words(choice.drivers) + ".");
  }
  add_rotation(choice, rotation, out);
  add_cautions(input, cautions_for(input), out);
  out.add(3, "Reasons for leaving out are common practice, no source.");
  out.add(FindingLines::always, standing_line());
  return out.text();
}

}  // namespace rimload
