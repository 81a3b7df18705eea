#include "case/json_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <vector>

#include "case/json_place.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

using nlohmann::json;

std::string line_and_column(std::string_view text, std::size_t byte) {
  const std::string_view before = text.substr(0, std::min(byte, text.size()));
  const auto line = std::count(before.begin(), before.end(), '\n') + 1;
  const std::size_t line_start = before.rfind('\n');
  const std::size_t column =
      line_start == std::string_view::npos ? before.size() : before.size() - line_start - 1;
  return fmt::format("line {}, column {}", line, std::max<std::size_t>(column, 1));
}

// A pass over the text before any tree is built: nlohmann's own tree takes the last of two equal
// keys in silence, and overflows the stack when a very deep one is copied.
class Inspector : public json::json_sax_t {
 public:
  Inspector(std::string_view text, const std::string& file) : text_(text), file_(file) {}
  [[nodiscard]] std::vector<Fault>& faults() { return faults_; }

  bool null() override { return scalar(); }
  bool boolean(bool) override { return scalar(); }
  bool number_integer(number_integer_t value) override {
    if (value < -largest_integer) refuse_integer();
    return scalar();
  }
  bool number_unsigned(number_unsigned_t value) override {
    if (value > static_cast<number_unsigned_t>(largest_integer)) refuse_integer();
    return scalar();
  }
  bool number_float(number_float_t, const string_t&) override { return scalar(); }
  bool string(string_t&) override { return scalar(); }
  bool binary(binary_t&) override { return scalar(); }

  bool start_object(std::size_t) override { return open(); }
  bool end_object() override { return close(); }
  bool start_array(std::size_t) override {
    if (!open()) return false;
    levels_.back().is_array = true;
    return true;
  }
  bool end_array() override { return close(); }
  bool key(string_t& name) override {
    levels_.back().current = name;
    if (!levels_.back().keys.insert(name).second && faults_.size() < max_faults) {
      faults_.push_back({file_, pointer(), "the key is given twice"});
    }
    return true;
  }
  bool parse_error(std::size_t byte, const std::string&, const json::exception& error) override {
    const bool overflow = error.id == 406;
    faults_.push_back({file_, line_and_column(text_, byte),
                       overflow ? "the number is too large" : syntax_words(error.what())});
    return false;
  }

 private:
  static constexpr std::size_t max_faults = 100;
  // 2^53, beyond which a double skips whole numbers; above 2^63 the validator would wrap round to
  // a negative number and let it pass.
  static constexpr number_integer_t largest_integer = 9007199254740992;
  struct Level {
    bool is_array = false;
    std::size_t index = 0;
    std::string current;
    std::set<std::string> keys;
  };

  // nlohmann says "[json.exception.parse_error.101] parse error at line 1, column 2: syntax error
  // while parsing ...": only what follows the place is of use to a user.
  static std::string syntax_words(std::string_view what) {
    const std::size_t colon = what.find(": ");
    return "this is no JSON: " +
           std::string(colon == std::string_view::npos ? what : what.substr(colon + 2));
  }
  [[nodiscard]] std::string pointer() const {
    std::string path;
    for (const Level& level : levels_) {
      path += "/" + (level.is_array ? std::to_string(level.index) : pointer_token(level.current));
    }
    return path;
  }
  void refuse_integer() {
    if (faults_.size() < max_faults) {
      faults_.push_back({file_, pointer(), "the number is too large"});
    }
  }
  bool open() {
    if (static_cast<int>(levels_.size()) >= max_json_depth) {
      faults_.push_back(
          {file_, pointer(), fmt::format("nested deeper than {} levels", max_json_depth)});
      return false;
    }
    levels_.emplace_back();
    return true;
  }
  bool close() {
    levels_.pop_back();
    return scalar();
  }
  bool scalar() {
    if (!levels_.empty() && levels_.back().is_array) ++levels_.back().index;
    return true;
  }

  std::string_view text_;
  std::string file_;
  std::vector<Level> levels_;
  std::vector<Fault> faults_;
};

}  // namespace

json parse_json(std::string_view text, const std::string& file) {
  if (text.size() > max_json_bytes) {
    throw InputError(
        file, "", fmt::format("{} bytes long; at most {} are read", text.size(), max_json_bytes));
  }
  Inspector inspector(text, file);
  json::sax_parse(text.begin(), text.end(), &inspector);
  if (!inspector.faults().empty()) throw InputError(std::move(inspector.faults()));
  return json::parse(text.begin(), text.end());
}

}  // namespace rimload
