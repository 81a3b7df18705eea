#include "skin/tolerance_words.hpp"

#include <fmt/format.h>

#include <cmath>

namespace rimload {

namespace {

std::string band_words(const HoursBand& band) {
  if (!band.high_h) {
    return fmt::format("{} at the cautious end, at the other no limit (not evidence of safety)",
                       hours_words(band.low_h));
  }
  if (band.low_h == 0) {
    return fmt::format("no time at the cautious end, {} at the other", hours_words(*band.high_h));
  }
  return fmt::format("{} to {}", hours_words(band.low_h), hours_words(*band.high_h));
}

}  // namespace

std::string hours_words(double hours) {
  constexpr double step = 0.1;
  constexpr double rounding = 1e-9;  // of hours that are whole tenths
  if (hours <= 0) return "no time";
  if (hours < step * (1 - rounding)) return "under 0.1 h";
  return fmt::format("{:.6g} h", step * std::floor(hours / step + rounding));
}

std::string words_for(const CurveReading& reading) {
  switch (reading.verdict) {
    case Verdict::hours: return band_words(reading.hours.value_or(HoursBand{}));
    case Verdict::at_once: return "reached at once";
    case Verdict::no_limit: return "gives no limit at this pressure (not evidence of safety)";
    case Verdict::blood_flow_may_stop: return "blood flow may stop at this pressure; no time given";
    case Verdict::blood_flow_stops: return "blood flow stops at this pressure; no time given";
    case Verdict::reference:
      return fmt::format("{:.2g} times the figure: a reference, never an injury threshold",
                         reading.times_reference);
    case Verdict::not_applicable: break;
  }
  return "not applicable, because " + reading.because;
}

}  // namespace rimload
