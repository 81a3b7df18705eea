// result.json: an estimate for programs to read.
#pragma once

#include <string>
#include <string_view>

#include "fit/estimate.hpp"

namespace rimload {

/// The version of the model and of this file's format.
inline constexpr const char* model_version = "1";

/// The estimate as JSON text, format `src/report/schema/result.schema.json`. Facial frame; every
/// key carries its unit; a phase that does not seat has a reason, and no pose, loads, sites, seal
/// or leak (null or empty).
[[nodiscard]] std::string result_json(const Estimate& estimate);

/// The JSON Schema (draft-07) of result.json.
[[nodiscard]] std::string_view result_schema_text();

}  // namespace rimload
