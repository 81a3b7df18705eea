#include "report/seen_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <numeric>
#include <vector>

#include "fit/caution.hpp"
#include "fit/scan_draw.hpp"
#include "report/finding_cautions.hpp"
#include "report/finding_lines.hpp"
#include "skin/check_plan.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

double unchanged(double value) { return value; }

// A value at the case's setting, as file and words name it.
struct SeenValue {
  const char* key;
  const char* words;
  const char* unit;
  double (*to_unit)(double);
  const BeforeAfter& bands;
};

std::vector<SeenValue> values_of(const SeenUpdate& update) {
  return {
      {"just_sealed_tension", "just seals at", "N", unchanged, update.sealing_n},
      {"strap_to_just_sealed", "strap to take in until then", "mm", unchanged,
       update.to_sealing_mm},
      {"least_seal_margin", "least seal margin as set", "cmH2O", units::to_cmh2o, update.margin},
      {"leak", "leak as set", "L/min", units::to_l_per_min, update.leak},
      {"worst_reading", "worst reading as set", "mmHg", units::to_mmhg, update.worst}};
}

std::string cells_of(const std::optional<ValueBand>& band, double (*to_unit)(double)) {
  if (!band) return ",,";
  return fmt::format("{},{},{}", to_unit(band->low), to_unit(band->median), to_unit(band->high));
}

// One row; what an observation has no use for stays empty.
struct SeenRow {
  std::string quantity, unit, observation, seen, before, after, verdict;
};

void add_seen_row(std::string& out, const SeenRow& row) {
  fmt::format_to(std::back_inserter(out), "{},{},{},{},{},{},{}\n", row.quantity, row.unit,
                 row.observation, row.seen, row.before, row.after, row.verdict);
}

std::string verdict_of(bool contradicts) { return contradicts ? "contradicts" : "as_foreseen"; }

// How a value is written.
struct SeenUnit {
  const char* unit;
  double (*to_unit)(double);
};
constexpr SeenUnit newton{"N", unchanged};
constexpr SeenUnit flow{"L/min", units::to_l_per_min};
constexpr SeenUnit pressure{"mmHg", units::to_mmhg};

// "3.1 N (2.8 to 3.5)"; one figure behind the point where numbers are small.
std::string band_words(const ValueBand& band, const SeenUnit& in) {
  constexpr double large = 20;
  const double low = in.to_unit(band.low);
  const double high = in.to_unit(band.high);
  const int digits = std::max(std::abs(low), std::abs(high)) < large ? 1 : 0;
  return fmt::format("{:.{}f} {} ({:.{}f} to {:.{}f})", in.to_unit(band.median), digits, in.unit,
                     low, digits, high, digits);
}

std::string change_words(const BeforeAfter& bands, const SeenUnit& in, bool with_after) {
  if (!bands.before) return "no draw gives it";
  std::string out = band_words(*bands.before, in) + " before";
  if (with_after && bands.after) out += ", " + band_words(*bands.after, in) + " after";
  return out;
}

std::string straps_words(const SeenReport& report, std::size_t observation) {
  const std::vector<double> asked =
      straps_of(report.estimate.input.seen[observation], report.estimate);
  const double mean =
      std::accumulate(asked.begin(), asked.end(), 0.0) / static_cast<double>(asked.size());
  return fmt::format("straps at {:.1f} N", mean);
}

std::string finger_words(FingerCheck check) {
  switch (check) {
    case FingerCheck::one_finger: return "one finger passes";
    case FingerCheck::none: return "no finger passes";
    case FingerCheck::two_fingers: break;
  }
  return "two fingers pass";
}

std::string state_words(SkinState state) {
  switch (state) {
    case SkinState::red_blanches: return "red, blanches";
    case SkinState::red_does_not_blanch: return "red, does not blanch";
    case SkinState::broken: return "broken";
    case SkinState::unchanged: break;
  }
  return "unchanged";
}

std::string sentence_of(const SkinCheck& check) {
  const auto& band = check.sensor.after ? check.sensor.after : check.sensor.before;
  const std::string reading = band ? band_words(*band, pressure) : "not known";
  switch (check.verdict) {
    case SkinVerdict::not_foreseen:
      return fmt::format(
          "not foreseen there ({}): look whether the mask has shifted, at tube, "
          "tape, moisture and what else touches it",
          reading);
    case SkinVerdict::foreseen:
      return fmt::format("where load is foreseen ({}): take the load off it, look again sooner",
                         reading);
    case SkinVerdict::no_reading:
      return "no pressure is given there: take the load off it, look again sooner";
    case SkinVerdict::no_evidence: return fmt::format("not evidence of safety ({})", reading);
    case SkinVerdict::injury: break;
  }
  return "an injury, see above";
}

void add_injuries(const SeenUpdate& update, FindingLines& out) {
  std::vector<SidedSite> injured;
  for (const SkinCheck& check : update.skin) {
    if (check.verdict == SkinVerdict::injury) injured.push_back(check.seen.site);
  }
  if (injured.empty()) return;
  SiteQuestion question{.place = injured.front(), .phases = {}, .muscle_stress = {}, .skin = {}};
  question.skin.injuries = {InjurySign::injured_skin};
  const CheckPlan plan = check_plan(question, {}, {});
  std::string words;
  for (const std::string& each : plan.words) words += " " + each;
  out.add(FindingLines::always, "Seen at the " + list_of(injured) + ":" + words);
}

void add_contradictions(const SeenReport& report, FindingLines& out) {
  const SeenUpdate& update = report.update;
  if (!update.contradicts()) return;
  std::vector<std::string> why;
  bool more = false;
  for (const LeakCheck& check : update.leaks) {
    if (!check.contradicts) continue;
    const double seen = units::to_l_per_min(check.seen);
    if (!check.foreseen.before) {
      why.push_back(fmt::format("in no draw does the mask seat with {}",
                                straps_words(report, check.observation)));
      continue;
    }
    const bool above = check.below_share > 0.5;
    more = more || above;
    why.push_back(fmt::format("a leak of {:.3g} L/min with {} is {} than the draws foresee, {}",
                              seen, straps_words(report, check.observation),
                              above ? "more" : "less", band_words(*check.foreseen.before, flow)));
  }
  for (const FingerSeen& check : update.fingers) {
    if (!check.contradicts) continue;
    why.push_back(
        fmt::format("{} with {}: the straps seem to pull otherwise than stated (by assumed bounds)",
                    finger_words(check.check), straps_words(report, check.observation)));
  }
  for (const SkinCheck& check : update.skin) {
    if (check.verdict != SkinVerdict::not_foreseen) continue;
    why.push_back("the " + place_words(check.seen.site) +
                  " is red where hardly any load is "
                  "foreseen");
  }
  if (why.empty()) why.emplace_back("no draw comes near everything that was seen together");
  std::string words;
  for (const std::string& each : why) words += (words.empty() ? "" : "; ") + each;
  out.add(FindingLines::always, "The face contradicts the model: " + words + ".");
  out.add(FindingLines::always,
          std::string("Trust what you see, not the numbers here. Look at: measurements of the "
                      "face, hair under the rim, a tube, size and seat of the cushion, the mouth, "
                      "how the straps are really set") +
              (more ? "" : ", what the ventilator counts as leak") +
              " (common practice, no source).");
}

void add_values(const SeenUpdate& update, FindingLines& out) {
  const bool with_after = !update.contradicts();
  if (with_after) {
    out.add(1, fmt::format("Before and after what was seen; medians, 10 to 90 % of {} draws of "
                           "what can't be known, of which it leaves as good as {:.0f}:",
                           update.n_draws, update.effective));
    if (update.is_rough()) {
      out.add(1, "Few draws are left: read the bands after as rough; more draws (--draws) help.");
    }
  } else {
    out.add(1, fmt::format("Foreseen; medians, 10 to 90 % of {} draws of what can't be known:",
                           update.n_draws));
  }
  int priority = 1;
  for (const SeenValue& value : values_of(update)) {
    out.add(priority++,
            fmt::format("- {}: {}", value.words,
                        change_words(value.bands, {value.unit, value.to_unit}, with_after)));
  }
  std::string seals = fmt::format("- seals as set: in {:.0f} % before", 100 * update.seals_before);
  if (with_after) seals += fmt::format(", in {:.0f} % after", 100 * update.seals_after);
  out.add(1, seals);
  const auto& to_sealing = update.to_sealing_mm.after;
  const bool red = std::any_of(update.skin.begin(), update.skin.end(), [](const SkinCheck& check) {
    return check.seen.state != SkinState::unchanged;
  });
  if (with_after && red && to_sealing && to_sealing->median > 0) {
    out.add(1,
            "Tightening presses skin that is red already: try another seat, size or type first "
            "(common practice, no source).");
  }
}

void add_observations(const SeenReport& report, FindingLines& out) {
  const SeenUpdate& update = report.update;
  const bool with_after = !update.contradicts();
  for (std::size_t k = 0; k < report.estimate.input.seen.size(); ++k) {
    const std::string head = fmt::format("Seen {}, {}: ", k + 1, straps_words(report, k));
    for (const LeakCheck& check : update.leaks) {
      if (check.observation != k) continue;
      out.add(
          2, fmt::format("{}leak {:.3g} L/min; foreseen {}.", head, units::to_l_per_min(check.seen),
                         change_words(check.foreseen, flow, with_after)));
    }
    for (const FingerSeen& check : update.fingers) {
      if (check.observation != k) continue;
      out.add(3,
              fmt::format("{}{}; straps pull {} (the check is common practice, no source).", head,
                          finger_words(check.check), change_words(check.pull, newton, with_after)));
    }
    for (const SkinCheck& check : update.skin) {
      if (check.observation != k) continue;
      out.add(2, fmt::format("{}{} after {:g} h {}: {}.", head, place_words(check.seen.site),
                             report.estimate.input.seen[k].skin_after_h,
                             state_words(check.seen.state), sentence_of(check)));
    }
  }
}

}  // namespace

std::string seen_csv(const SeenReport& report) {
  const SeenUpdate& update = report.update;
  std::string out =
      "quantity,unit,observation,seen,before_p10,before_p50,before_p90,after_p10,after_p50,"
      "after_p90,verdict\n";
  for (const SeenValue& value : values_of(update)) {
    add_seen_row(out, {value.key, value.unit, "", "", cells_of(value.bands.before, value.to_unit),
                       cells_of(value.bands.after, value.to_unit), ""});
  }
  const auto single = [](double value) { return fmt::format(",{},", value); };
  add_seen_row(out, {"seals_share", "1", "", "", single(update.seals_before),
                     single(update.seals_after), ""});
  add_seen_row(out, {"draws", "1", "", "", single(static_cast<double>(update.n_draws)),
                     single(update.effective), verdict_of(update.contradicts())});
  for (const LeakCheck& check : update.leaks) {
    add_seen_row(
        out, {"leak", "L/min", std::to_string(check.observation + 1),
              fmt::format("{}", units::to_l_per_min(check.seen)),
              cells_of(check.foreseen.before, units::to_l_per_min),
              cells_of(check.foreseen.after, units::to_l_per_min), verdict_of(check.contradicts)});
  }
  for (const FingerSeen& check : update.fingers) {
    add_seen_row(out, {"strap_pull", "N", std::to_string(check.observation + 1),
                       std::string(name_of(check.check)), cells_of(check.pull.before, unchanged),
                       cells_of(check.pull.after, unchanged), verdict_of(check.contradicts)});
  }
  for (const SkinCheck& check : update.skin) {
    add_seen_row(
        out, {"reading at the " + place_words(check.seen.site), "mmHg",
              std::to_string(check.observation + 1), std::string(name_of(check.seen.state)),
              cells_of(check.sensor.before, units::to_mmhg),
              cells_of(check.sensor.after, units::to_mmhg), std::string(name_of(check.verdict))});
  }
  return out;
}

std::string seen_finding(const SeenReport& report) {
  const Case& input = report.estimate.input;
  FindingLines out(FindingLines::max_lines, "seen.csv");
  add_cautions(input, report.estimate.cautions, out);
  add_injuries(report.update, out);
  out.add(1, case_line(input));
  add_contradictions(report, out);
  add_values(report.update, out);
  add_observations(report, out);
  out.add(4, scan_draw_words(input));
  out.add(4, "Spreads of leak and finger check are assumed; skin does not weigh on the numbers.");
  out.add(FindingLines::always, standing_line());
  return out.text();
}

}  // namespace rimload
