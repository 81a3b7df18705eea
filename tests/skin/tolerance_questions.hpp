// Sites as the tests of tolerance ask about them.
#pragma once

#include <utility>

#include "skin/tolerance_table.hpp"
#include "units/units.hpp"

namespace rimload {

/// A steady load: sensor, mean and peak alike.
inline SiteQuestion steady(Site site, double mmhg, double shear_mmhg = 0) {
  const double pressure = units::from_mmhg(mmhg);
  return {.place = {site, is_midline(site) ? Side::midline : Side::left},
          .phases = {{.sensor = pressure,
                      .mean = pressure,
                      .peak = pressure,
                      .shear = units::from_mmhg(shear_mmhg)}},
          .muscle_stress = {},
          .skin = {}};
}

inline SiteQuestion with_modifiers(SiteQuestion question, std::vector<SkinModifier> modifiers) {
  question.skin.modifiers = std::move(modifiers);
  return question;
}

/// So many hours a day, pressures taken as exact.
inline WearPlan sure(double hours_a_day, int days = 5) {
  return {.hours_a_day = hours_a_day, .days = days, .policy_h = {}, .pressure_spread = 0.0};
}

inline CurveReading reading(ToleranceCurve curve, const SiteQuestion& question,
                            const WearPlan& plan) {
  for (const CurveReading& each : curve_readings(question, plan)) {
    if (each.curve == curve) return each;
  }
  return {};
}

/// An end of a band as a number that grows with time.
inline double or_never(const HoursLimit& hours) { return hours.value_or(1e300); }

/// The ends of a curve's band; where it gives no band, those of no limit.
struct Ends {
  double low = 1e300, typical = 1e300, high = 1e300, fresh = 1e300;
};
inline Ends ends_of(const CurveReading& reading) {
  if (!reading.hours) return {};
  return {reading.hours->low_h, or_never(reading.hours->typical_h), or_never(reading.hours->high_h),
          reading.hours->low_fresh_h};
}

/// How badly off blood flow is.
inline int flow_rank(const CurveReading& reading) {
  if (reading.verdict == Verdict::blood_flow_stops) return 2;
  return reading.verdict == Verdict::blood_flow_may_stop ? 1 : 0;
}

}  // namespace rimload
