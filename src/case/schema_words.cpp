#include "case/schema_words.hpp"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <nlohmann/json.hpp>
#include <optional>

#include "case/json_place.hpp"
#include "case/nearest_name.hpp"

namespace rimload {

namespace {

using nlohmann::json;
using Place = std::vector<std::string>;

// A part of the schema together with all that it draws in by $ref and allOf.
using Rules = std::vector<const json*>;

void add_rules(const json& part, const json& schema, Rules& rules) {
  rules.push_back(&part);
  if (const auto ref = part.find("$ref"); ref != part.end()) {
    add_rules(schema.at(json::json_pointer(ref->get<std::string>().substr(1))), schema, rules);
  }
  if (const auto all = part.find("allOf"); all != part.end()) {
    for (const json& each : *all) add_rules(each, schema, rules);
  }
}

// The rules one step further down; empty where the schema says nothing.
Rules step(const Rules& rules, const std::string& key, bool into_array, const json& schema) {
  Rules below;
  for (const json* rule : rules) {
    if (into_array) {
      if (const auto items = rule->find("items"); items != rule->end()) {
        add_rules(*items, schema, below);
      }
      continue;
    }
    const auto properties = rule->find("properties");
    if (properties != rule->end() && properties->contains(key)) {
      add_rules(properties->at(key), schema, below);
    } else if (const auto more = rule->find("additionalProperties");
               more != rule->end() && more->is_object()) {
      add_rules(*more, schema, below);
    }
  }
  return below;
}

const json* keyword(const Rules& rules, const char* name) {
  for (const json* rule : rules) {
    if (const auto found = rule->find(name); found != rule->end()) return &*found;
  }
  return nullptr;
}

std::string shown(const json& value) {
  constexpr std::size_t longest = 60;
  std::string text = value.is_structured()
                         ? std::string(value.type_name())
                         : value.dump(-1, ' ', false, json::error_handler_t::replace);
  if (text.size() > longest) text = text.substr(0, longest) + "...";
  return text;
}

std::string with_unit(std::string text, std::string_view unit) {
  return unit.empty() ? text : fmt::format("{} {}", text, unit);
}

// "3 to 40 cmH2O", "at least 1", or nothing.
std::string range_words(const Rules& rules, std::string_view unit) {
  const json* low = keyword(rules, "minimum");
  const json* high = keyword(rules, "maximum");
  if (low != nullptr && high != nullptr) {
    return with_unit(fmt::format("{} to {}", shown(*low), shown(*high)), unit);
  }
  if (low != nullptr) return with_unit("at least " + shown(*low), unit);
  return high == nullptr ? "" : with_unit("at most " + shown(*high), unit);
}

std::vector<std::string> names_in(const json& list) {
  std::vector<std::string> names;
  for (const json& entry : list)
    names.push_back(entry.is_string() ? entry.get<std::string>() : entry.dump());
  return names;
}

std::string joined(const std::vector<std::string>& names) {
  return fmt::format("{}", fmt::join(names, ", "));
}

std::string type_word(const std::string& type) {
  if (type == "integer") return "a whole number";
  if (type == "boolean") return "true or false";
  if (type == "string") return "text";
  if (type == "array") return "a list [...]";
  if (type == "object") return "an object {...}";
  return "a number";
}

// What belongs here: "a number, 3 to 40 cmH2O".
std::string wanted(const Rules& rules, std::string_view unit) {
  if (const json* exact = keyword(rules, "const")) return shown(*exact);
  if (const json* list = keyword(rules, "enum")) return "one of " + joined(names_in(*list));
  const json* type = keyword(rules, "type");
  if (type == nullptr) return "something else";
  std::vector<std::string> words;
  for (const std::string& each : names_in(type->is_array() ? *type : json::array({*type}))) {
    words.push_back(type_word(each));
  }
  std::string text = fmt::format("{}", fmt::join(words, " or "));
  if (const std::string range = range_words(rules, unit); !range.empty()) text += ", " + range;
  return text;
}

bool is_of_type(const json& value, const std::string& type) {
  if (type == "integer") return value.is_number_integer();
  if (type == "number") return value.is_number();
  if (type == "boolean") return value.is_boolean();
  if (type == "string") return value.is_string();
  if (type == "array") return value.is_array();
  return value.is_object();
}

bool has_wanted_type(const json& value, const Rules& rules) {
  const json* type = keyword(rules, "type");
  if (type == nullptr) return true;
  for (const std::string& each : names_in(type->is_array() ? *type : json::array({*type}))) {
    if (is_of_type(value, each)) return true;
  }
  return false;
}

// A bound that is broken: `counted` is what the schema's keyword limits.
std::optional<std::string> size_words(const Rules& rules, std::size_t counted, const char* noun,
                                      std::array<const char*, 2> keywords) {
  const json* low = keyword(rules, keywords[0]);
  const json* high = keyword(rules, keywords[1]);
  const bool few = low != nullptr && counted < low->get<std::size_t>();
  const bool many = high != nullptr && counted > high->get<std::size_t>();
  if (!few && !many) return std::nullopt;
  std::string allowed = few ? "at least " + shown(*low) : "at most " + shown(*high);
  if (low != nullptr && high != nullptr && *low == *high) allowed = "exactly " + shown(*low);
  return fmt::format("{} {}; allowed: {}", counted, noun, allowed);
}

// Unknown and missing keys of an object.
void add_key_faults(const json& value, const Place& place, const Rules& rules, const json& schema,
                    std::vector<Fault>& faults) {
  const std::string here = pointer_to(place);
  std::vector<std::string> known;
  bool closed = false;
  for (const json* rule : rules) {
    if (const auto properties = rule->find("properties"); properties != rule->end()) {
      for (const auto& [key, unused] : properties->items()) known.push_back(key);
    }
    closed = closed || rule->value("additionalProperties", json()) == json(false);
  }
  for (const auto& [key, unused] : value.items()) {
    if (closed && !step(rules, key, false, schema).empty()) continue;
    if (closed)
      faults.push_back(
          {"", here + "/" + pointer_token(key), "unknown key" + name_hint(key, known)});
  }
  for (const json* rule : rules) {
    const auto required = rule->find("required");
    if (required == rule->end()) continue;
    for (const std::string& key : names_in(*required)) {
      if (value.contains(key)) continue;
      Place missing = place;
      missing.push_back(key);
      faults.push_back(
          {"", pointer_to(missing),
           "missing; needed: " + wanted(step(rules, key, false, schema), unit_of(missing))});
    }
  }
}

std::optional<std::string> value_words(const json& value, const Rules& rules,
                                       std::string_view unit) {
  if (const json* exact = keyword(rules, "const"); exact != nullptr && value != *exact) {
    return fmt::format("{} is not {}", shown(value), shown(*exact));
  }
  if (const json* list = keyword(rules, "enum"); list != nullptr) {
    for (const json& each : *list) {
      if (value == each) return std::nullopt;
    }
    const std::vector<std::string> names = names_in(*list);
    const std::string nearest =
        value.is_string() ? nearest_name(value.get<std::string>(), names) : "";
    return fmt::format("{} is not one of {}{}", shown(value), joined(names),
                       nearest.empty() ? "" : "; nearest valid name: " + in_quotes(nearest));
  }
  if (!has_wanted_type(value, rules)) {
    return fmt::format("{} is not {}", shown(value), wanted(rules, unit));
  }
  if (value.is_number()) {
    const auto number = value.get<double>();
    const json* low = keyword(rules, "minimum");
    const json* high = keyword(rules, "maximum");
    const bool outside = (low != nullptr && number < low->get<double>()) ||
                         (high != nullptr && number > high->get<double>());
    if (!outside) return std::nullopt;
    return fmt::format("{} is out of range; allowed: {}", with_unit(shown(value), unit),
                       range_words(rules, unit));
  }
  if (value.is_string()) {
    return size_words(rules, value.get_ref<const std::string&>().size(), "characters",
                      {"minLength", "maxLength"});
  }
  if (value.is_array()) {
    return size_words(rules, value.size(), "entries", {"minItems", "maxItems"});
  }
  if (value.is_object()) {
    return size_words(rules, value.size(), "keys", {"minProperties", "maxProperties"});
  }
  return std::nullopt;
}

std::optional<std::size_t> index_of(const std::string& token) {
  std::size_t index = 0;
  const auto [end, error] = std::from_chars(token.data(), token.data() + token.size(), index);
  if (error != std::errc() || end != token.data() + token.size()) return std::nullopt;
  return index;
}

}  // namespace

std::string pointer_to(const Place& place) {
  std::string pointer;
  for (const std::string& token : place) pointer += "/" + pointer_token(token);
  return pointer;
}

std::string_view unit_of(const Place& place) {
  struct Row {
    std::string_view ending, unit;
  };
  // The longer of two endings first.
  static constexpr std::array rows{Row{"_kPa_per_mm", "kPa/mm"},
                                   Row{"_N_per_mm", "N/mm"},
                                   Row{"_N_mm2", "N mm2"},
                                   Row{"_L_min", "L/min"},
                                   Row{"_cmH2O", "cmH2O"},
                                   Row{"_mmHg", "mmHg"},
                                   Row{"_kPa", "kPa"},
                                   Row{"_mm", "mm"},
                                   Row{"_deg", "degrees"},
                                   Row{"_kg", "kg"},
                                   Row{"_N", "N"},
                                   Row{"_percent", "%"},
                                   Row{"wear_h", "h"},
                                   Row{"after_h", "h"},
                                   Row{"every_h", "h"},
                                   Row{"hours_worn", "h"},
                                   Row{"hours_planned", "h"},
                                   Row{"hours_at_least", "h"}};
  for (auto token = place.rbegin(); token != place.rend(); ++token) {
    for (const Row& row : rows) {
      if (token->ends_with(row.ending)) return row.unit;
    }
  }
  return "";
}

std::vector<Fault> words_for(const Violation& violation, const json& document, const json& schema) {
  const json* value = &document;
  Rules rules;
  add_rules(schema, schema, rules);
  for (const std::string& token : violation.place) {
    rules = step(rules, token, value->is_array(), schema);
    if (value->is_object() && value->contains(token)) {
      value = &value->at(token);
    } else if (const auto index = index_of(token);
               value->is_array() && index && *index < value->size()) {
      value = &(*value)[*index];
    } else {
      return {};
    }
  }
  std::vector<Fault> faults;
  if (const auto words = value_words(*value, rules, unit_of(violation.place))) {
    faults.push_back({"", pointer_to(violation.place), *words});
  }
  if (value->is_object()) add_key_faults(*value, violation.place, rules, schema, faults);
  return faults;
}

}  // namespace rimload
