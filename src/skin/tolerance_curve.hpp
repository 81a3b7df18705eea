// Named curves of how long tissue bears load, each as far as it speaks.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/site.hpp"

namespace rimload {

enum class ToleranceCurve {
  pressure_time,          ///< a product of pressure and time
  blood_flow,             ///< a pressure that stops blood flow; no time
  blood_flow_with_shear,  ///< the same with shear
  daily_pressure,         ///< hours a day over days
  muscle,                 ///< stress inside muscle; never at the nasal bridge
  nail_fold               ///< a reference, never an injury threshold
};
inline constexpr std::array tolerance_curves{ToleranceCurve::pressure_time,
                                             ToleranceCurve::blood_flow,
                                             ToleranceCurve::blood_flow_with_shear,
                                             ToleranceCurve::daily_pressure,
                                             ToleranceCurve::muscle,
                                             ToleranceCurve::nail_fold};

/// The name in files, such as `pressure_time`.
[[nodiscard]] std::string_view name_of(ToleranceCurve curve);

/// What is printed with a curve.
struct CurveRecord {
  std::string title;
  std::string measured_on;
  std::string says;
  std::string source;
  std::string status;  ///< published, from memory or assumed
};
/// From `data/tolerance-curves.json`.
[[nodiscard]] const CurveRecord& record_of(ToleranceCurve curve);

/// Lines that are printed once wherever hours are.
[[nodiscard]] std::span<const std::string> standing_lines();

/// A number and how far it may lie off: `low` is the cautious end, low <= typical <= high.
struct Ranged {
  double low = 0;
  double typical = 0;
  double high = 0;
};

/// Hours until a curve is reached: 0 at once, nothing where the curve gives no limit.
using HoursLimit = std::optional<double>;

/// t = product/p between `shortest_h` and `longest_h` [Reswick and Rogers 1976].
struct PressureTimeLaw {
  Ranged product;  ///< [N/mm2 h]
  double shortest_h = 0;
  double longest_h = 0;
};

/// The pressure that stops blood flow, without shear and with one shear [Goossens 1994].
struct BloodFlowLaw {
  Ranged stops_at;  ///< [N/mm2]
  double stops_at_with_shear = 0;
  double that_shear = 0;
};

/// Pressure that harms when borne some hours a day over days.
struct DailyPressureLaw {
  Ranged threshold;        ///< [N/mm2]
  double hours_a_day = 0;  ///< that were tried [h]
  int least_days = 0;
};

/// Stress that muscle bears for a time, P(t) = K/(1 + exp(a (t - t0))) + C [Linder-Ganz 2006].
struct MuscleLaw {
  double k = 0;          ///< [N/mm2]
  double a_per_h = 0;    ///< [1/h]
  double t0_h = 0;       ///< [h]
  double c = 0;          ///< [N/mm2]
  Ranged stress_factor;  ///< times P(t)
  std::vector<Site> sites;
};

/// Every number of `data/tolerance-curves.json`; see the file for sources.
struct ToleranceLaws {
  PressureTimeLaw pressure_time;
  BloodFlowLaw blood_flow;
  DailyPressureLaw daily_pressure;
  MuscleLaw muscle;
  double nail_fold = 0;        ///< [N/mm2]
  double peak_remark = 0;      ///< peak over sensor from which a remark is made
  double pressure_spread = 0;  ///< share by which a pressure may lie off, either way
};
[[nodiscard]] const ToleranceLaws& tolerance_laws();

/// Whether the muscle curve may speak at a site. Never at the nasal bridge.
[[nodiscard]] bool has_muscle(Site site);

/// Hours by the product of pressure and time.
/// @param pressure [N/mm2], 0 or more
/// @param product [N/mm2 h], above 0
/// @return 0 where that is sooner than the law's shortest time, nothing where later than its
/// longest
[[nodiscard]] HoursLimit pressure_time_hours(double pressure, double product);

/// Hours a day over days: those tried at the threshold, above it shorter as 1/pressure (assumed);
/// nothing below it.
/// @param pressure [N/mm2], 0 or more
/// @param threshold [N/mm2], above 0
[[nodiscard]] HoursLimit daily_pressure_hours(double pressure, double threshold);

/// Hours until muscle is injured: t = t0 + ln(K/(stress - C) - 1)/a.
/// @param stress compressive, in the muscle, over the factor by which it bears more [N/mm2]
/// @return 0 at or above P(0), nothing at or below C
[[nodiscard]] HoursLimit muscle_hours(double stress);

/// Pressure without shear that stops blood flow as this pressure does with its shear.
///
/// Two points are known, (11.6, 0) and (8.7, 3.1) kPa [Goossens 1994]. Typical: the straight line
/// through them, p + b t. The ends: the lesser and the greater of that and the ellipse through
/// them, sqrt(p^2 + c t^2), as the way in which they add is not known.
/// @param pressure [N/mm2], 0 or more
/// @param shear [N/mm2], 0 or more
[[nodiscard]] Ranged pressure_with_shear(double pressure, double shear);

}  // namespace rimload
