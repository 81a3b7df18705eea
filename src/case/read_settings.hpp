// What a case asks of the ventilator.
#pragma once

#include <string>
#include <vector>

#include "case/case.hpp"
#include "case/json_place.hpp"
#include "units/error.hpp"

namespace rimload {

struct SettingsRead {
  Settings settings;
  std::vector<Fault> faults;           ///< file left empty
  std::vector<std::string> defaulted;  ///< JSON pointers of what was left out
};

/// Reads `/settings`: one pressure all through, or an inspiratory one above an expiratory one.
[[nodiscard]] SettingsRead read_settings(const JsonPlace& place);

}  // namespace rimload
