#include "skin/tolerance.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "units/error.hpp"

namespace rimload {

namespace {

void require(bool holds, const char* what, double value, const char* unit) {
  if (holds) return;
  throw InternalError(fmt::format("tolerance: {} is {:g} {}", what, value, unit));
}

double spread_of(const WearPlan& plan) {
  return plan.pressure_spread.value_or(tolerance_laws().pressure_spread);
}

void require_plan(const WearPlan& plan) {
  const auto is_time = [](double hours) { return hours >= 0 && std::isfinite(hours); };
  require(is_time(plan.hours_a_day), "hours_a_day, needed 0 or more,", plan.hours_a_day, "h");
  require(is_time(plan.hours_worn), "hours_worn, needed 0 or more,", plan.hours_worn, "h");
  require(plan.days >= 1, "days, needed 1 or more,", plan.days, "");
  const double policy = plan.policy_h.value_or(1);
  require(policy > 0 && std::isfinite(policy), "policy_h, needed above 0,", policy, "h");
  const double spread = spread_of(plan);
  require(spread >= 0 && spread < 1, "pressure_spread, needed 0 to below 1,", spread, "");
}

void require_stress(const char* what, double stress) {
  require(stress >= 0 && std::isfinite(stress), what, stress, "N/mm2, needed 0 or more");
}

void require_question(const SiteQuestion& question) {
  double shares = 0;
  for (const PhaseLoad& phase : question.phases) {
    require_stress("a phase's sensor pressure", phase.sensor);
    require_stress("a phase's mean pressure", phase.mean);
    require_stress("a phase's peak pressure", phase.peak);
    require_stress("a phase's shear", phase.shear);
    require(phase.time_share >= 0 && phase.time_share <= 1, "a phase's time share, needed 0 to 1,",
            phase.time_share, "");
    shares += phase.time_share;
  }
  constexpr double rounding = 1e-9;
  require(std::abs(shares - 1) <= rounding, "the sum of time shares, needed 1,", shares, "");
  if (question.muscle_stress) require_stress("the stress in muscle", *question.muscle_stress);
}

// The curve of a law at the three loads of a band.
struct Limits {
  HoursLimit mild, typical, harsh;
};

double less_worn(double hours, double worn) { return std::max(hours - worn, 0.0); }

CurveReading reading_of(ToleranceCurve curve, const Limits& limits, double worn) {
  CurveReading out{.curve = curve, .verdict = Verdict::no_limit, .hours = {}, .because = {}};
  if (!limits.harsh) return out;
  out.verdict = limits.mild == 0.0 ? Verdict::at_once : Verdict::hours;
  HoursBand band{.low_h = less_worn(*limits.harsh, worn),
                 .typical_h = limits.typical,
                 .high_h = limits.mild,
                 .low_fresh_h = *limits.harsh};
  if (band.typical_h) band.typical_h = less_worn(*band.typical_h, worn);
  out.hours = band;
  return out;
}

CurveReading not_applicable(ToleranceCurve curve, std::string because) {
  return {.curve = curve,
          .verdict = Verdict::not_applicable,
          .hours = {},
          .because = std::move(because)};
}

CurveReading pressure_time_reading(const LoadBand& load, double worn) {
  const Ranged& product = tolerance_laws().pressure_time.product;
  return reading_of(ToleranceCurve::pressure_time,
                    {pressure_time_hours(load.mild, product.high),
                     pressure_time_hours(load.typical, product.typical),
                     pressure_time_hours(load.harsh, product.low)},
                    worn);
}

CurveReading blood_flow_reading(ToleranceCurve curve, const LoadBand& load) {
  const Ranged& stops = tolerance_laws().blood_flow.stops_at;
  CurveReading out{.curve = curve, .verdict = Verdict::no_limit, .hours = {}, .because = {}};
  if (load.harsh >= stops.low) out.verdict = Verdict::blood_flow_may_stop;
  if (load.typical >= stops.typical) out.verdict = Verdict::blood_flow_stops;
  return out;
}

bool bears_shear(const SiteQuestion& question) {
  return std::any_of(question.phases.begin(), question.phases.end(),
                     [](const PhaseLoad& phase) { return phase.shear > 0; });
}

bool is_under_strap(Site site) {
  return std::find(strap_sites.begin(), strap_sites.end(), site) != strap_sites.end();
}

CurveReading sheared_reading(const SiteQuestion& question, const LoadBand& load) {
  constexpr auto curve = ToleranceCurve::blood_flow_with_shear;
  if (bears_shear(question)) return blood_flow_reading(curve, load);
  return not_applicable(curve, is_under_strap(question.place.site)
                                   ? "shear under a strap is not computed"
                                   : "no shear acts here in this estimate");
}

CurveReading daily_reading(const LoadBand& load, const WearPlan& plan) {
  const DailyPressureLaw& law = tolerance_laws().daily_pressure;
  if (plan.days < law.least_days) {
    return not_applicable(ToleranceCurve::daily_pressure,
                          "it speaks of hours a day over days, and one day is planned");
  }
  return reading_of(ToleranceCurve::daily_pressure,
                    {daily_pressure_hours(load.mild, law.threshold.high),
                     daily_pressure_hours(load.typical, law.threshold.typical),
                     daily_pressure_hours(load.harsh, law.threshold.low)},
                    plan.hours_worn);
}

CurveReading muscle_reading(const SiteQuestion& question, const WearPlan& plan) {
  constexpr auto curve = ToleranceCurve::muscle;
  if (question.place.site == Site::nasal_bridge) {
    return not_applicable(curve, "there is no muscle at the nasal bridge");
  }
  if (!has_muscle(question.place.site)) {
    return not_applicable(curve, "no layer of muscle is known at this site");
  }
  if (!question.muscle_stress) {
    return not_applicable(curve, "no section was computed here, so stress in muscle is not known");
  }
  const double stress = *question.muscle_stress;
  const double spread = spread_of(plan);
  const double bears = weakening_of(question.skin).bears;
  const Ranged& factor = tolerance_laws().muscle.stress_factor;
  return reading_of(curve,
                    {muscle_hours(stress * (1 - spread) / factor.high),
                     muscle_hours(stress / bears / factor.typical),
                     muscle_hours(stress * (1 + spread) / bears / factor.low)},
                    plan.hours_worn);
}

CurveReading nail_fold_reading(const SiteQuestion& question) {
  CurveReading out{.curve = ToleranceCurve::nail_fold,
                   .verdict = Verdict::reference,
                   .hours = {},
                   .because = {}};
  for (const PhaseLoad& phase : question.phases) {
    out.times_reference = std::max(out.times_reference, phase.sensor / tolerance_laws().nail_fold);
  }
  return out;
}

// Why no curve speaks here at all; empty when some do.
std::string silence(const SiteQuestion& question, const WearPlan& plan) {
  if (plan.wearer == Wearer::child) return "no curve and no tissue data of children exist";
  if (question.place.site == Site::eyelid) return "no pressure is given on the lids";
  const bool bare = !is_pressed(question) && question.muscle_stress.value_or(0) == 0;
  return bare ? "nothing presses here in this estimate" : "";
}

}  // namespace

std::string_view name_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::hours: return "hours";
    case Verdict::at_once: return "at_once";
    case Verdict::no_limit: return "no_limit";
    case Verdict::blood_flow_may_stop: return "blood_flow_may_stop";
    case Verdict::blood_flow_stops: return "blood_flow_stops";
    case Verdict::reference: return "reference";
    case Verdict::not_applicable: break;
  }
  return "not_applicable";
}

bool is_pressed(const SiteQuestion& question) {
  return std::any_of(question.phases.begin(), question.phases.end(), [](const PhaseLoad& phase) {
    return phase.sensor > 0 || phase.mean > 0 || phase.peak > 0;
  });
}

LoadOnSkin load_on_skin(const SiteQuestion& question, const WearPlan& plan) {
  require_plan(plan);
  require_question(question);
  LoadOnSkin out;
  for (const PhaseLoad& phase : question.phases) {
    out.pressure.mild += phase.time_share * phase.sensor;
    out.pressure.typical = std::max(out.pressure.typical, phase.sensor);
    out.pressure.harsh = std::max({out.pressure.harsh, phase.sensor, phase.mean});
    out.shear.mild += phase.time_share * phase.shear;
    out.shear.typical = std::max(out.shear.typical, phase.shear);
  }
  // The mean of a breath may come out a rounding above the highest.
  out.pressure.mild = std::min(out.pressure.mild, out.pressure.typical);
  out.shear.mild = std::min(out.shear.mild, out.shear.typical);
  out.shear.harsh = out.shear.typical * weakening_of(question.skin).shear;
  const double spread = spread_of(plan);
  for (LoadBand* band : {&out.pressure, &out.shear}) {
    band->mild *= 1 - spread;
    band->harsh *= 1 + spread;
  }
  return out;
}

LoadBand pressure_band(const SiteQuestion& question, const WearPlan& plan) {
  const LoadBand pressure = load_on_skin(question, plan).pressure;
  const double bears = weakening_of(question.skin).bears;
  return {pressure.mild, pressure.typical / bears, pressure.harsh / bears};
}

LoadBand shear_band(const SiteQuestion& question, const WearPlan& plan) {
  const LoadOnSkin load = load_on_skin(question, plan);
  const double bears = weakening_of(question.skin).bears;
  const auto with_shear = [&](double LoadBand::*end) {
    return pressure_with_shear(load.pressure.*end, load.shear.*end);
  };
  return {with_shear(&LoadBand::mild).low, with_shear(&LoadBand::typical).typical / bears,
          with_shear(&LoadBand::harsh).high / bears};
}

std::vector<CurveReading> curve_readings(const SiteQuestion& question, const WearPlan& plan) {
  const LoadBand pressure = pressure_band(question, plan);
  if (!question.skin.injuries.empty()) return {};
  std::vector<CurveReading> out;
  const std::string silent = silence(question, plan);
  if (!silent.empty()) {
    for (const ToleranceCurve curve : tolerance_curves) {
      out.push_back(not_applicable(curve, silent));
    }
    return out;
  }
  const LoadBand sheared = shear_band(question, plan);
  out.push_back(pressure_time_reading(sheared, plan.hours_worn));
  out.push_back(blood_flow_reading(ToleranceCurve::blood_flow, pressure));
  out.push_back(sheared_reading(question, sheared));
  out.push_back(daily_reading(sheared, plan));
  out.push_back(muscle_reading(question, plan));
  out.push_back(nail_fold_reading(question));
  return out;
}

std::vector<SiteQuestion> site_questions(std::span<const SitesInPhase> phases) {
  std::vector<SiteQuestion> out;
  std::map<SidedSite, std::size_t> row_of;
  for (const SitesInPhase& phase : phases) {
    for (const SitePressure& site : phase.sites) {
      const SidedSite place{site.site, site.side};
      if (!row_of.emplace(place, out.size()).second) continue;
      out.push_back({.place = place, .phases = {}, .muscle_stress = {}, .skin = {}});
      for (const SitesInPhase& each : phases) {
        out.back().phases.push_back({.time_share = each.time_share});
      }
    }
  }
  for (std::size_t k = 0; k < phases.size(); ++k) {
    for (const SitePressure& site : phases[k].sites) {
      PhaseLoad& load = out[row_of.at({site.site, site.side})].phases[k];
      load.sensor = site.sensor;
      load.mean = site.mean;
      load.peak = site.peak;
      if (site.peak > 0)
        load.shear = site.shear_peak * std::max(site.sensor, site.mean) / site.peak;
    }
  }
  return out;
}

}  // namespace rimload
