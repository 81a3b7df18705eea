#include "case/landmark_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>

#include "case/csv_table.hpp"
#include "case/face_file.hpp"
#include "case/json_place.hpp"
#include "case/json_text.hpp"
#include "case/nearest_name.hpp"
#include "case/schema.hpp"

namespace rimload {

namespace {

const std::vector<Landmark>& known_on_face() { return face_model_named("reference")->landmarks; }

struct LandmarkWords {
  std::string name;
  std::string side;
};

// What is wrong with a landmark's name or side: which of the two, and the message.
std::optional<std::pair<const char*, std::string>> fault_in(const LandmarkWords& words) {
  std::vector<std::string> names;
  std::vector<std::string> sides;
  for (const Landmark& each : known_on_face()) {
    names.push_back(each.name);
    if (each.name == words.name) sides.emplace_back(name_of(each.side));
  }
  if (sides.empty()) {
    return std::pair{"name", fmt::format("no landmark is called {}{}", in_quotes(words.name),
                                         name_hint(words.name, names))};
  }
  if (std::find(sides.begin(), sides.end(), words.side) == sides.end()) {
    return std::pair{"side", fmt::format("{} has no side {}; allowed: {}", words.name,
                                         in_quotes(words.side), fmt::join(sides, ", "))};
  }
  return std::nullopt;
}

class LandmarkReader {
 public:
  explicit LandmarkReader(const std::string& file) : file_(file) {}

  LandmarkFile json(std::string_view text) {
    const nlohmann::json document = parse_json(text, file_);
    faults_ = schema_faults(document, FileKind::landmarks, file_);
    const JsonPlace root(document);
    for (const JsonPlace& each : root["landmarks"].entries()) {
      const auto name = each["name"].text();
      const auto at = each["at_scan_units"].triple();
      if (!name || !at) continue;
      const std::string pointer = each.pointer();
      add({*name, each["side"].text().value_or("midline")}, *at,
          [&](const char* what) { return pointer + (*what == 0 ? "" : "/") + what; });
    }
    out_.confirmed = root["confirmed"].truth().value_or(true);
    return done();
  }

  LandmarkFile csv(std::string_view text) {
    const CsvTable table = read_csv(text, file_, std::nullopt, faults_);
    constexpr std::array needed{"name", "side", "x", "y", "z"};
    std::array<std::size_t, needed.size()> column{};
    const auto& headers = table.header.fields;
    for (std::size_t k = 0; k < needed.size() && !headers.empty(); ++k) {
      const auto found = std::find(headers.begin(), headers.end(), needed[k]);
      column[k] = static_cast<std::size_t>(found - headers.begin());
      if (found != headers.end()) continue;
      faults_.push_back({file_, line_words(table.header.line),
                         fmt::format("the table has no column '{}'{}; needed: name,side,x,y,z",
                                     needed[k], name_hint(needed[k], headers))});
    }
    if (headers.empty() && faults_.empty()) {
      faults_.push_back({file_, line_words(1), "holds no header; needed: name,side,x,y,z"});
    }
    if (!faults_.empty()) throw InputError(std::move(faults_));
    for (const CsvRow& row : table.rows) {
      const auto place = [&](const char* what) {
        return line_words(row.line) + (*what == 0 ? "" : fmt::format(", column '{}'", what));
      };
      Vec3 at = Vec3::Zero();
      bool sound = true;
      for (const std::size_t axis : {0, 1, 2}) {
        const std::string& digits = row.fields[column[2 + axis]];
        const auto value = number_in(digits);
        if (!value) {
          faults_.push_back({file_, place(needed[2 + axis]),
                             fmt::format("{} is not a number from -1e6 to 1e6, with a point and "
                                         "without unit",
                                         in_quotes(digits))});
          sound = false;
        } else {
          at[static_cast<Eigen::Index>(axis)] = *value;
        }
      }
      const std::string& side = row.fields[column[1]];
      const LandmarkWords words{row.fields[column[0]], side.empty() ? "midline" : side};
      if (sound) add(words, at, place);
    }
    return done();
  }

 private:
  template <typename Place>
  void add(const LandmarkWords& words, const Vec3& at, Place&& place) {
    if (const auto fault = fault_in(words)) {
      faults_.push_back({file_, place(fault->first), fault->second});
    } else if (!given_.emplace(words.name, words.side).second) {
      faults_.push_back(
          {file_, place(""), fmt::format("{} ({}) is given twice", words.name, words.side)});
    } else {
      out_.landmarks.push_back({words.name, side_named(words.side).value(), at});
    }
  }

  static std::optional<double> number_in(const std::string& digits) {
    const nlohmann::json value = nlohmann::json::parse(digits, nullptr, false);
    if (!value.is_number()) return std::nullopt;
    const auto out = value.get<double>();
    constexpr double most = 1e6;
    return std::abs(out) <= most ? std::optional(out) : std::nullopt;
  }

  LandmarkFile done() {
    constexpr std::size_t fewest = 4;
    if (faults_.empty() && out_.landmarks.size() < fewest) {
      faults_.push_back({file_, "",
                         fmt::format("holds {} landmarks; needed: {} or more, on both sides of the "
                                     "face",
                                     out_.landmarks.size(), fewest)});
    }
    if (!faults_.empty()) throw InputError(std::move(faults_));
    return std::move(out_);
  }

  const std::string& file_;
  std::vector<Fault> faults_;
  std::set<std::pair<std::string, std::string>> given_;
  LandmarkFile out_;
};

}  // namespace

bool is_csv(std::string_view file) {
  constexpr std::string_view ending = ".csv";
  return file.size() >= ending.size() &&
         std::equal(ending.rbegin(), ending.rend(), file.rbegin(),
                    [](char a, char b) { return a == (b >= 'A' && b <= 'Z' ? b - 'A' + 'a' : b); });
}

LandmarkFile read_landmark_file(std::string_view text, const std::string& file) {
  LandmarkReader reader(file);
  return is_csv(file) ? reader.csv(text) : reader.json(text);
}

std::string write_landmark_file(const LandmarkFile& landmarks) {
  nlohmann::ordered_json out;
  out["rimload_landmarks"] = 1;
  out["confirmed"] = landmarks.confirmed;
  out["landmarks"] = nlohmann::ordered_json::array();
  for (const ScanLandmark& each : landmarks.landmarks) {
    const Vec3& at = each.position_scan;
    out["landmarks"].push_back({{"name", each.name},
                                {"side", name_of(each.side)},
                                {"at_scan_units", {at.x(), at.y(), at.z()}}});
  }
  return out.dump(2) + "\n";
}

InputError not_confirmed(const std::string& file) {
  return {file, "/confirmed",
          "false: these landmarks were proposed by the program, and nobody has looked at them yet. "
          "Look at each in scan.png, put right or leave out those that are off, then write true"};
}

}  // namespace rimload
