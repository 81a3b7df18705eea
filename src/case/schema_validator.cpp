#include "case/schema_validator.hpp"

#include <nlohmann/json.hpp>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validation_results.hpp>
#include <valijson/validator.hpp>

#include "units/error.hpp"

namespace rimload {

struct SchemaValidator::Compiled {
  valijson::Schema schema;
};

SchemaValidator::SchemaValidator(const nlohmann::json& schema)
    : compiled_(std::make_unique<Compiled>()) {
  try {
    valijson::SchemaParser(valijson::SchemaParser::kDraft7)
        .populateSchema(valijson::adapters::NlohmannJsonAdapter(schema), compiled_->schema);
  } catch (const std::exception& error) {
    throw InternalError(std::string("a schema of ours is not sound: ") + error.what());
  }
}

SchemaValidator::~SchemaValidator() = default;

std::vector<Violation> SchemaValidator::violations(const nlohmann::json& document) const {
  valijson::ValidationResults results;
  valijson::Validator validator(valijson::Validator::kStrongTypes);
  if (validator.validate(compiled_->schema, valijson::adapters::NlohmannJsonAdapter(document),
                         &results)) {
    return {};
  }
  std::vector<Violation> out;
  for (const auto& error : results) {
    Violation violation{{}, error.description};
    // The context is "<root>", then "[key]" or "[index]" for each step.
    for (std::size_t k = 1; k < error.context.size(); ++k) {
      violation.place.push_back(error.context[k].substr(1, error.context[k].size() - 2));
    }
    out.push_back(std::move(violation));
  }
  if (out.empty()) out.push_back({{}, "does not hold to the schema"});
  return out;
}

}  // namespace rimload
