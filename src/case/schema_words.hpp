// A violation of a schema in plain words: the value, its unit, what is allowed.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "case/schema_validator.hpp"
#include "units/error.hpp"

namespace rimload {

/// The JSON pointer to a place.
[[nodiscard]] std::string pointer_to(const std::vector<std::string>& place);

/// The unit that a place's keys carry, `cmH2O` for `/settings/cpap_cmH2O` and `N` for
/// `/straps/tension_N/upper`; empty if none does.
[[nodiscard]] std::string_view unit_of(const std::vector<std::string>& place);

/// What is wrong at the very place of a violation, one fault a key; empty when the fault lies
/// deeper. Reads the keywords type, const, enum, minimum, maximum, minLength, maxLength, minItems,
/// maxItems, minProperties, required, additionalProperties; follows $ref and allOf.
[[nodiscard]] std::vector<Fault> words_for(const Violation& violation,
                                           const nlohmann::json& document,
                                           const nlohmann::json& schema);

}  // namespace rimload
