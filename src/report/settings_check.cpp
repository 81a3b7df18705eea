#include "report/settings_check.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "report_data.hpp"
#include "units/units.hpp"

namespace rimload {

SettingsCheck check_settings(const Settings& settings) {
  static const auto practice = nlohmann::json::parse(data::settings_practice_json());
  // To a hundredth: conversions leave dust in the last digits.
  const auto tidy = [](double pressure) {
    return std::round(100 * units::to_cmh2o(pressure)) / 100;
  };
  const double lower = tidy(settings.expiratory);
  const double upper = tidy(settings.inspiratory);
  const auto is_usual = [](const char* range, double cmh2o) {
    const auto& ends = practice.at(range);
    return cmh2o >= ends.at(0).get<double>() && cmh2o <= ends.at(1).get<double>();
  };
  const auto words = [](const char* key) { return practice.at(key).get<std::string>(); };
  SettingsCheck out;
  out.low_alarm_cmh2o = lower - practice.at("below_expiratory_cmH2O").get<double>();
  out.high_alarm_cmh2o = upper + practice.at("above_inspiratory_cmH2O").get<double>();
  out.usual_start = settings.bilevel ? is_usual("inspiratory_start_cmH2O", upper) &&
                                           is_usual("expiratory_start_cmH2O", lower)
                                     : is_usual("cpap_start_cmH2O", lower);
  out.alarms = fmt::format(fmt::runtime(words("alarms")), fmt::arg("low", out.low_alarm_cmh2o),
                           fmt::arg("high", out.high_alarm_cmh2o),
                           fmt::arg("lower", settings.bilevel ? "expiratory" : "CPAP"),
                           fmt::arg("upper", settings.bilevel ? "inspiratory" : "it"));
  out.low_alarm = words("low_alarm");
  out.high_alarm = words("high_alarm");
  out.starts = words("starts");
  return out;
}

}  // namespace rimload
