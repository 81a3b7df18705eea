// The JSON Schemas of the files a user writes, and what a document does against them.
#pragma once

#include <array>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "units/error.hpp"

namespace rimload {

/// The kinds of file a user writes.
enum class FileKind { case_file, catalogue, face, dressings, measurements, columns, landmarks };
inline constexpr std::array file_kinds{
    FileKind::case_file,    FileKind::catalogue, FileKind::face,     FileKind::dressings,
    FileKind::measurements, FileKind::columns,   FileKind::landmarks};

/// `case`, `catalogue`, `face`, `dressings`, `measurements`, `columns` or `landmarks`.
[[nodiscard]] std::string_view name_of(FileKind kind);
/// The key that marks a file of that kind, such as `rimload_case`.
[[nodiscard]] std::string_view marker_of(FileKind kind);
/// The kind told by the marker key at the root, or nothing.
[[nodiscard]] std::optional<FileKind> kind_of(const nlohmann::json& document);

/// The schema (draft-07) as text.
[[nodiscard]] std::string_view schema_text(FileKind kind);

/// Every fault of a document against the schema of its kind, in plain words.
/// @param file its name, for messages
[[nodiscard]] std::vector<Fault> schema_faults(const nlohmann::json& document, FileKind kind,
                                               const std::string& file);

}  // namespace rimload
