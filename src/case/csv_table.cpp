#include "case/csv_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "case/nearest_name.hpp"

namespace rimload {

namespace {

constexpr std::size_t most_rows = 5000;
constexpr std::array<std::pair<char, const char*>, 3> separators{
    {{',', "comma"}, {';', "semicolon"}, {'\t', "tab"}}};

std::string trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return "";
  const auto last = text.find_last_not_of(" \t");
  return std::string(text.substr(first, last - first + 1));
}

// Length of the UTF-8 character that begins here; 0 when none does.
std::size_t character_length(std::string_view text) {
  const auto byte = [&](std::size_t k) { return static_cast<unsigned char>(text[k]); };
  std::size_t n = 1;
  if (byte(0) >= 0xF0 && byte(0) <= 0xF4) {
    n = 4;
  } else if (byte(0) >= 0xE0) {
    n = 3;
  } else if (byte(0) >= 0xC2) {
    n = 2;
  } else if (byte(0) >= 0x80) {
    return 0;
  }
  if (byte(0) > 0xF4 || n > text.size()) return 0;
  for (std::size_t k = 1; k < n; ++k) {
    if ((byte(k) & 0xC0U) != 0x80U) return 0;
  }
  return n;
}

// The line of the first byte that is no text in UTF-8.
std::optional<std::size_t> line_not_utf8(std::string_view text) {
  std::size_t line = 1;
  while (!text.empty()) {
    const std::size_t n = text.front() == '\0' ? 0 : character_length(text);
    if (n == 0) return line;
    line += text.front() == '\n';
    text.remove_prefix(n);
  }
  return std::nullopt;
}

// Separators of the header's line that stand outside quotes.
std::optional<char> told_by(std::string_view line, std::string& complaint) {
  std::vector<std::pair<char, const char*>> found;
  for (const auto& [character, name] : separators) {
    bool quoted = false;
    bool seen = false;
    for (const char c : line) {
      if (c == '"') quoted = !quoted;
      seen = seen || (!quoted && c == character);
    }
    if (seen) found.emplace_back(character, name);
  }
  if (found.size() == 1) return found.front().first;
  if (found.empty()) {
    complaint = "the header holds no comma, semicolon or tab: is this a table of several columns?";
    return std::nullopt;
  }
  complaint = fmt::format(
      "the header holds more than one of comma, semicolon and tab: say which separates columns, as "
      "\"separator\" in the column map");
  return std::nullopt;
}

class Reader {
 public:
  Reader(std::string_view text, char separator) : rest_(text), separator_(separator) {}

  [[nodiscard]] bool at_end() const { return rest_.empty(); }

  // The next row; a complaint when it is at fault.
  CsvRow row(std::string& complaint) {
    CsvRow out{line_, {}};
    for (;;) {
      out.fields.push_back(field(complaint));
      if (!rest_.empty() && rest_.front() == separator_) {
        rest_.remove_prefix(1);
        continue;
      }
      end_line();
      return out;
    }
  }

 private:
  [[nodiscard]] bool at_line_end() const {
    return rest_.empty() || rest_.front() == '\n' || rest_.front() == '\r';
  }
  void end_line() {
    if (rest_.starts_with("\r\n")) {
      rest_.remove_prefix(2);
    } else if (!rest_.empty()) {
      rest_.remove_prefix(1);
    }
    ++line_;
  }
  // Bare text up to the separator or the line's end.
  std::string_view bare() {
    std::size_t n = 0;
    while (n < rest_.size() && rest_[n] != separator_ && rest_[n] != '\n' && rest_[n] != '\r') ++n;
    const std::string_view out = rest_.substr(0, n);
    rest_.remove_prefix(n);
    return out;
  }
  std::string field(std::string& complaint) {
    while (!at_line_end() && rest_.front() == ' ') rest_.remove_prefix(1);
    if (rest_.empty() || rest_.front() != '"') return trimmed(bare());
    const std::size_t opened = line_;
    rest_.remove_prefix(1);
    std::string out;
    for (;;) {
      if (rest_.empty()) {
        complaint = fmt::format("the quote opened in line {} is never closed", opened);
        return out;
      }
      const char c = rest_.front();
      rest_.remove_prefix(1);
      if (c != '"') {
        line_ += c == '\n';
        out += c;
      } else if (!rest_.empty() && rest_.front() == '"') {
        rest_.remove_prefix(1);
        out += '"';
      } else {
        break;
      }
    }
    if (const std::string behind = trimmed(bare()); !behind.empty()) {
      complaint = fmt::format("{} follows a closing quote; write a quote within quotes twice",
                              in_quotes(behind));
    }
    return trimmed(out);
  }

  std::string_view rest_;
  char separator_;
  std::size_t line_ = 1;
};

bool is_blank(const CsvRow& row) {
  return std::all_of(row.fields.begin(), row.fields.end(),
                     [](const std::string& field) { return field.empty(); });
}

}  // namespace

std::string line_words(std::size_t line) { return fmt::format("line {}", line); }

CsvTable read_csv(std::string_view text, const std::string& file, std::optional<char> separator,
                  std::vector<Fault>& faults) {
  CsvTable out;
  const auto fault = [&](std::size_t line, std::string message) {
    faults.push_back({file, line_words(line), std::move(message)});
  };
  if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF")) {
    fault(1, "is text in UTF-16; save it as CSV in UTF-8");
    return out;
  }
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  if (const auto line = line_not_utf8(text)) {
    fault(*line, "holds a character that is not UTF-8; save the table as CSV in UTF-8");
    return out;
  }
  if (!separator) {
    std::string complaint;
    separator = told_by(text.substr(0, text.find_first_of("\r\n")), complaint);
    if (!separator) {
      fault(1, std::move(complaint));
      return out;
    }
  }
  out.separator = *separator;
  Reader reader(text, *separator);
  bool has_header = false;
  while (!reader.at_end()) {
    std::string complaint;
    CsvRow row = reader.row(complaint);
    if (!complaint.empty()) {
      fault(row.line, std::move(complaint));
    } else if (!has_header) {
      has_header = true;
      out.header = std::move(row);
    } else if (is_blank(row)) {
      continue;
    } else if (row.fields.size() != out.header.fields.size()) {
      const bool comma = out.separator == ',' && row.fields.size() > out.header.fields.size();
      fault(row.line, fmt::format("{} fields where the header has {}{}", row.fields.size(),
                                  out.header.fields.size(),
                                  comma ? "; numbers with a decimal comma need quotes, or "
                                          "semicolons between columns"
                                        : ""));
    } else if (out.rows.size() == most_rows) {
      fault(row.line, fmt::format("more than {} rows", most_rows));
      break;
    } else {
      out.rows.push_back(std::move(row));
    }
  }
  return out;
}

}  // namespace rimload
