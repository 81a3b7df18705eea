#include "skin/concern.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "skin/tolerance_words.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

void raise(ConcernFinding& finding, Concern level, std::string reason) {
  finding.level = std::max(finding.level, level);
  finding.reasons.push_back(std::move(reason));
}

void add_hours(const CurveReading& reading, const WearPlan& plan, ConcernFinding& finding) {
  const HoursBand band = reading.hours.value_or(HoursBand{});
  const std::string& title = record_of(reading.curve).title;
  const std::string planned = fmt::format("{:g} h a day planned", plan.hours_a_day);
  if (band.typical_h && *band.typical_h <= plan.hours_a_day) {
    raise(finding, Concern::high,
          fmt::format("{}: typical value {}, with {}.", title, hours_words(*band.typical_h),
                      planned));
  } else if (band.low_h <= plan.hours_a_day) {
    raise(finding, Concern::raised,
          fmt::format("{}: cautious end {}, with {}.", title, hours_words(band.low_h), planned));
  }
}

void add_reading(const CurveReading& reading, const WearPlan& plan, ConcernFinding& finding) {
  const std::string& title = record_of(reading.curve).title;
  switch (reading.verdict) {
    case Verdict::hours:
    case Verdict::at_once: add_hours(reading, plan, finding); break;
    case Verdict::blood_flow_may_stop:
    case Verdict::blood_flow_stops:
      raise(finding, reading.verdict == Verdict::blood_flow_stops ? Concern::high : Concern::raised,
            fmt::format("{}: {}.", title, words_for(reading)));
      break;
    case Verdict::no_limit:
    case Verdict::reference:
    case Verdict::not_applicable: break;
  }
}

// What was chosen or is worth a remark; none of it changes the level here.
void add_remarks(const SiteQuestion& question, const WearPlan& plan, ConcernFinding& finding) {
  const SiteSkin& skin = question.skin;
  for (const SkinModifier modifier : skin_modifiers) {
    if (std::find(skin.modifiers.begin(), skin.modifiers.end(), modifier) == skin.modifiers.end()) {
      continue;
    }
    finding.reasons.push_back(fmt::format(
        "Chosen: {}; moves the cautious end and the typical value.", words_for(modifier)));
  }
  if (skin.moisture != Moisture::dry) {
    finding.reasons.push_back(fmt::format(
        "Chosen: {}; moves the cautious end and the typical value.", words_for(skin.moisture)));
  }
  if (plan.hours_worn > 0) {
    finding.reasons.push_back(
        fmt::format("{} worn already: taken off the cautious end and the typical value.",
                    hours_words(plan.hours_worn)));
  }
  double peak = 0;
  double sensor = 0;
  for (const PhaseLoad& phase : question.phases) {
    peak = std::max(peak, phase.peak);
    sensor = std::max(sensor, phase.sensor);
  }
  if (sensor > 0 && peak >= tolerance_laws().peak_remark * sensor) {
    finding.reasons.push_back(
        fmt::format("A narrow line of load: peak {:.0f} mmHg, {:.2g} times what a sensor reads.",
                    units::to_mmhg(peak), peak / sensor));
  }
}

}  // namespace

std::string_view name_of(Concern concern) {
  switch (concern) {
    case Concern::low: return "low";
    case Concern::raised: return "raised";
    case Concern::high: return "high";
    case Concern::injury: break;
  }
  return "injury";
}

ConcernFinding concern_of(const SiteQuestion& question, const WearPlan& plan,
                          std::span<const CurveReading> readings) {
  ConcernFinding finding;
  for (const InjurySign sign : injury_signs) {
    const auto& found = question.skin.injuries;
    if (std::find(found.begin(), found.end(), sign) == found.end()) continue;
    raise(finding, Concern::injury, fmt::format("Found: {}. It is injury.", words_for(sign)));
  }
  if (finding.level == Concern::injury) return finding;
  if (!is_pressed(question)) {
    finding.reasons.emplace_back("Nothing presses here in this estimate.");
    return finding;
  }
  if (question.place.site == Site::eyelid) {
    raise(finding, Concern::high, "Something presses on a lid: it must bear no load.");
    return finding;
  }
  if (plan.wearer == Wearer::child) {
    raise(finding, Concern::raised, "A child: no curve and no tissue data exist, so no hours.");
    return finding;
  }
  for (const CurveReading& reading : readings) add_reading(reading, plan, finding);
  if (finding.level == Concern::low) {
    finding.reasons.emplace_back(
        "No curve is reached, even at its cautious end: not evidence of safety.");
  }
  add_remarks(question, plan, finding);
  return finding;
}

}  // namespace rimload
