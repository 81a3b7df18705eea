// The schema validator, kept in one translation unit.
#pragma once

#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

namespace rimload {

/// A place that does not hold to the schema. The places above it are listed as well.
struct Violation {
  std::vector<std::string> place;  ///< keys and indices from the root
  std::string message;             ///< the validator's own words
};

/// A JSON Schema, draft-07, ready to judge documents.
class SchemaValidator {
 public:
  /// @throws InternalError when the schema itself is not sound
  explicit SchemaValidator(const nlohmann::json& schema);
  ~SchemaValidator();
  SchemaValidator(const SchemaValidator&) = delete;
  SchemaValidator& operator=(const SchemaValidator&) = delete;

  /// Every violation, empty when the document is valid.
  [[nodiscard]] std::vector<Violation> violations(const nlohmann::json& document) const;

 private:
  struct Compiled;
  std::unique_ptr<Compiled> compiled_;
};

}  // namespace rimload
