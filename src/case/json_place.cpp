#include "case/json_place.hpp"

#include <nlohmann/json.hpp>

namespace rimload {

std::string pointer_token(std::string_view key) {
  std::string token;
  for (const char c : key) {
    if (c == '~') {
      token += "~0";
    } else if (c == '/') {
      token += "~1";
    } else {
      token += c;
    }
  }
  return token;
}

JsonPlace JsonPlace::operator[](std::string_view key) const {
  std::string below = pointer_ + "/" + pointer_token(key);
  if (value_ == nullptr || !value_->is_object()) return {nullptr, std::move(below)};
  const auto found = value_->find(std::string(key));
  return {found == value_->end() ? nullptr : &*found, std::move(below)};
}

std::vector<JsonPlace> JsonPlace::entries() const {
  std::vector<JsonPlace> out;
  if (value_ == nullptr || !value_->is_array()) return out;
  for (std::size_t k = 0; k < value_->size(); ++k) {
    out.push_back({&(*value_)[k], pointer_ + "/" + std::to_string(k)});
  }
  return out;
}

std::vector<std::pair<std::string, JsonPlace>> JsonPlace::members() const {
  std::vector<std::pair<std::string, JsonPlace>> out;
  if (value_ == nullptr || !value_->is_object()) return out;
  for (const auto& [key, value] : value_->items()) {
    out.emplace_back(key, JsonPlace{&value, pointer_ + "/" + pointer_token(key)});
  }
  return out;
}

std::optional<double> JsonPlace::number() const {
  if (value_ == nullptr || !value_->is_number()) return std::nullopt;
  return value_->get<double>();
}

std::optional<bool> JsonPlace::truth() const {
  if (value_ == nullptr || !value_->is_boolean()) return std::nullopt;
  return value_->get<bool>();
}

std::optional<std::string> JsonPlace::text() const {
  if (value_ == nullptr || !value_->is_string()) return std::nullopt;
  return value_->get<std::string>();
}

std::optional<Vec3> JsonPlace::triple() const {
  if (value_ == nullptr || !value_->is_array() || value_->size() != 3) return std::nullopt;
  Vec3 out;
  for (int k = 0; k < 3; ++k) {
    const auto& entry = (*value_)[static_cast<std::size_t>(k)];
    if (!entry.is_number()) return std::nullopt;
    out[k] = entry.get<double>();
  }
  return out;
}

}  // namespace rimload
