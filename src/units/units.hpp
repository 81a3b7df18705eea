// Conversions between the units inside (mm, N, N/mm2, mm3/s) and the units at the edges.
#pragma once

namespace rimload::units {

// Inside: lengths mm, forces N, pressures and stresses N/mm2 (= MPa), flows mm3/s, times s.

inline constexpr double kpa = 1e-3;                     ///< 1 kPa in N/mm2
inline constexpr double mmhg = 0.133322 * kpa;          ///< 1 mmHg in N/mm2
inline constexpr double cmh2o = 0.0980665 * kpa;        ///< 1 cmH2O in N/mm2
inline constexpr double l_per_min = 1e6 / 60.0;         ///< 1 L/min in mm3/s
inline constexpr double newton_per_kilogram = 9.80665;  ///< weight of 1 kg [N]

/// Pressure in N/mm2 of a value given in kPa.
[[nodiscard]] constexpr double from_kpa(double value) { return value * kpa; }
/// Value in kPa of a pressure [N/mm2].
[[nodiscard]] constexpr double to_kpa(double pressure) { return pressure / kpa; }
/// Pressure in N/mm2 of a value given in mmHg.
[[nodiscard]] constexpr double from_mmhg(double value) { return value * mmhg; }
/// Value in mmHg of a pressure [N/mm2].
[[nodiscard]] constexpr double to_mmhg(double pressure) { return pressure / mmhg; }
/// Pressure in N/mm2 of a value given in cmH2O.
[[nodiscard]] constexpr double from_cmh2o(double value) { return value * cmh2o; }
/// Value in cmH2O of a pressure [N/mm2].
[[nodiscard]] constexpr double to_cmh2o(double pressure) { return pressure / cmh2o; }
/// Flow in mm3/s of a value given in L/min.
[[nodiscard]] constexpr double from_l_per_min(double value) { return value * l_per_min; }
/// Value in L/min of a flow [mm3/s].
[[nodiscard]] constexpr double to_l_per_min(double flow) { return flow / l_per_min; }

}  // namespace rimload::units
