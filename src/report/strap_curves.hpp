// What the strap window's picture shows, before anything is drawn.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "report/strap_chart.hpp"

namespace rimload {

/// A curve over tension, in stretches that are broken where the mask does not seat.
struct StrapCurve {
  std::string name;
  std::vector<std::vector<Vec2>> stretches;  ///< tension a strap [N] and value
};

/// Sensor pressure [mmHg] of the sites, each by its harder pressed side and phase, the hardest
/// pressed first; sites that nothing presses are left out.
[[nodiscard]] std::vector<StrapCurve> pressure_curves(const StrapReport& report);

/// Unintentional leak [L/min] of each phase, then of the breath where there are two.
[[nodiscard]] std::vector<StrapCurve> leak_curves(const StrapReport& report);

/// Ranges of tension [N] in which the mask does not seat, each up to the middle between its last
/// point and the seated neighbour.
[[nodiscard]] std::vector<std::pair<double, double>> unseated_ranges(const StrapReport& report);

/// Where the axis of leak ends [L/min]: at most twice the limit, unless a curve never comes down
/// to that; then a quarter above the least of the curve that stays highest.
[[nodiscard]] double leak_axis_end(const std::vector<StrapCurve>& curves, double limit_l_min);

/// The largest value of all curves, 0 without any.
[[nodiscard]] double highest(const std::vector<StrapCurve>& curves);

/// Whether some tension seals and no site is too hard pressed there.
[[nodiscard]] bool has_window(const StrapWindow& window);

/// The window in a sentence.
[[nodiscard]] std::string window_sentence(const StrapReport& report);

}  // namespace rimload
