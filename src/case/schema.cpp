#include "case/schema.hpp"

#include <nlohmann/json.hpp>
#include <set>
#include <tuple>

#include "case/schema_validator.hpp"
#include "case/schema_words.hpp"
#include "case_data.hpp"

namespace rimload {

namespace {

struct Schema {
  nlohmann::json json;
  SchemaValidator validator;
  explicit Schema(std::string_view text) : json(nlohmann::json::parse(text)), validator(json) {}
};

const Schema& schema_of(FileKind kind) {
  static const Schema case_schema(data::case_schema_json());
  static const Schema catalogue_schema(data::catalogue_schema_json());
  static const Schema face_schema(data::face_schema_json());
  static const Schema dressings_schema(data::dressings_schema_json());
  static const Schema measurements_schema(data::measurements_schema_json());
  static const Schema columns_schema(data::columns_schema_json());
  static const Schema landmarks_schema(data::landmarks_schema_json());
  switch (kind) {
    case FileKind::catalogue: return catalogue_schema;
    case FileKind::face: return face_schema;
    case FileKind::dressings: return dressings_schema;
    case FileKind::measurements: return measurements_schema;
    case FileKind::columns: return columns_schema;
    case FileKind::landmarks: return landmarks_schema;
    case FileKind::case_file: break;
  }
  return case_schema;
}

}  // namespace

std::string_view name_of(FileKind kind) { return marker_of(kind).substr(8); }

std::string_view marker_of(FileKind kind) {
  switch (kind) {
    case FileKind::catalogue: return "rimload_catalogue";
    case FileKind::face: return "rimload_face";
    case FileKind::dressings: return "rimload_dressings";
    case FileKind::measurements: return "rimload_measurements";
    case FileKind::columns: return "rimload_columns";
    case FileKind::landmarks: return "rimload_landmarks";
    case FileKind::case_file: break;
  }
  return "rimload_case";
}

std::optional<FileKind> kind_of(const nlohmann::json& document) {
  for (const FileKind kind : file_kinds) {
    if (document.is_object() && document.contains(std::string(marker_of(kind)))) return kind;
  }
  return std::nullopt;
}

std::string_view schema_text(FileKind kind) {
  switch (kind) {
    case FileKind::catalogue: return data::catalogue_schema_json();
    case FileKind::face: return data::face_schema_json();
    case FileKind::dressings: return data::dressings_schema_json();
    case FileKind::measurements: return data::measurements_schema_json();
    case FileKind::columns: return data::columns_schema_json();
    case FileKind::landmarks: return data::landmarks_schema_json();
    case FileKind::case_file: break;
  }
  return data::case_schema_json();
}

std::vector<Fault> schema_faults(const nlohmann::json& document, FileKind kind,
                                 const std::string& file) {
  const Schema& schema = schema_of(kind);
  std::vector<Fault> faults;
  std::set<std::tuple<std::string, std::string>> said;
  const std::vector<Violation> violations = schema.validator.violations(document);
  for (const Violation& violation : violations) {
    for (Fault& fault : words_for(violation, document, schema.json)) {
      if (!said.emplace(fault.path, fault.message).second) continue;
      fault.file = file;
      faults.push_back(std::move(fault));
    }
  }
  if (faults.empty() && !violations.empty()) {
    faults.push_back({file, pointer_to(violations.front().place), violations.front().message});
  }
  return faults;
}

}  // namespace rimload
