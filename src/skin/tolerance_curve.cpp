#include "skin/tolerance_curve.hpp"

#include <algorithm>
#include <cmath>

namespace rimload {

std::string_view name_of(ToleranceCurve curve) {
  switch (curve) {
    case ToleranceCurve::pressure_time: return "pressure_time";
    case ToleranceCurve::blood_flow: return "blood_flow";
    case ToleranceCurve::blood_flow_with_shear: return "blood_flow_with_shear";
    case ToleranceCurve::daily_pressure: return "daily_pressure";
    case ToleranceCurve::muscle: return "muscle";
    case ToleranceCurve::nail_fold: break;
  }
  return "nail_fold";
}

bool has_muscle(Site site) {
  const std::vector<Site>& sites = tolerance_laws().muscle.sites;
  return std::find(sites.begin(), sites.end(), site) != sites.end();
}

HoursLimit pressure_time_hours(double pressure, double product) {
  const PressureTimeLaw& law = tolerance_laws().pressure_time;
  if (product > law.longest_h * pressure) return std::nullopt;  // holds for no pressure too
  const double hours = product / pressure;
  return hours < law.shortest_h ? 0 : hours;
}

HoursLimit daily_pressure_hours(double pressure, double threshold) {
  if (pressure < threshold) return std::nullopt;
  return tolerance_laws().daily_pressure.hours_a_day * threshold / pressure;
}

HoursLimit muscle_hours(double stress) {
  const MuscleLaw& law = tolerance_laws().muscle;
  if (stress <= law.c) return std::nullopt;
  const double odds = law.k / (stress - law.c) - 1;
  if (odds <= std::exp(-law.a_per_h * law.t0_h)) return 0;
  return law.t0_h + std::log(odds) / law.a_per_h;
}

Ranged pressure_with_shear(double pressure, double shear) {
  const BloodFlowLaw& law = tolerance_laws().blood_flow;
  const double stops = law.stops_at.typical;
  const double slope = (stops - law.stops_at_with_shear) / law.that_shear;
  const double square = (stops * stops - law.stops_at_with_shear * law.stops_at_with_shear) /
                        (law.that_shear * law.that_shear);
  const double line = pressure + slope * shear;
  const double ellipse = std::sqrt(pressure * pressure + square * shear * shear);
  return {std::min(line, ellipse), line, std::max(line, ellipse)};
}

}  // namespace rimload
