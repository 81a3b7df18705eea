// A place in a JSON document that may be absent or hold something else than hoped for.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "geometry/vec.hpp"

namespace rimload {

/// One step of a JSON pointer, `~` and `/` escaped [RFC 6901, section 3].
[[nodiscard]] std::string pointer_token(std::string_view key);

/// Reads tolerantly: what is absent or of another type is nothing, never an error. The schema
/// names such faults; the reader can so go on and find the others.
class JsonPlace {
 public:
  /// The root. The document must outlive the place.
  explicit JsonPlace(const nlohmann::json& document) : value_(&document) {}

  /// The member of that name; absent unless this is an object that has it.
  [[nodiscard]] JsonPlace operator[](std::string_view key) const;
  /// The entries of an array, else none.
  [[nodiscard]] std::vector<JsonPlace> entries() const;
  /// The members of an object, else none.
  [[nodiscard]] std::vector<std::pair<std::string, JsonPlace>> members() const;

  [[nodiscard]] bool present() const { return value_ != nullptr; }
  [[nodiscard]] std::optional<double> number() const;
  [[nodiscard]] std::optional<bool> truth() const;
  [[nodiscard]] std::optional<std::string> text() const;
  /// An array of exactly three numbers.
  [[nodiscard]] std::optional<Vec3> triple() const;

  /// Where it is, or would be: a JSON pointer, empty for the root.
  [[nodiscard]] const std::string& pointer() const { return pointer_; }

 private:
  JsonPlace(const nlohmann::json* value, std::string pointer)
      : value_(value), pointer_(std::move(pointer)) {}

  const nlohmann::json* value_;  ///< null: absent
  std::string pointer_;
};

}  // namespace rimload
