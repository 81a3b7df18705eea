// A face made of measurements, as JSON.
#pragma once

#include <nlohmann/json.hpp>

#include "case/case.hpp"

namespace rimload {

/// The member `measurements` of the result's face: what was given, whom it was set against, every
/// dimension with its band, questions and remarks; null for a face of another origin.
[[nodiscard]] nlohmann::ordered_json measurements_json(const Case& input);

}  // namespace rimload
