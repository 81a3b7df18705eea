// result.json: an estimate for programs to read.
#pragma once

#include <string>

#include "fit/estimate.hpp"

namespace rimload {

/// The version of the model and of this file's format.
inline constexpr const char* model_version = "1";

/// The estimate as JSON text, format `src/report/schema/result.schema.json`. Facial frame; every
/// key carries its unit; a phase that does not seat has no sites, seal or leak (null).
[[nodiscard]] std::string result_json(const Estimate& estimate);

}  // namespace rimload
