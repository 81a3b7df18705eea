// Alarm limits and starting pressures as they are taught, beside those of the case.
#pragma once

#include <string>

#include "case/case.hpp"

namespace rimload {

/// Common practice, no source; shown under local policy, never filled in.
struct SettingsCheck {
  double low_alarm_cmh2o = 0;   ///< by the rule taught
  double high_alarm_cmh2o = 0;  ///< by the rule taught
  bool usual_start = true;      ///< whether the pressures are ones that teaching starts with
  std::string alarms;           ///< the rule with its two values, and what else has alarms
  std::string low_alarm;        ///< where to look when the low one sounds
  std::string high_alarm;       ///< where to look when the high one sounds
  std::string starts;           ///< the pressures that teaching starts with
};

[[nodiscard]] SettingsCheck check_settings(const Settings& settings);

}  // namespace rimload
