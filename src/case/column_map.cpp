#include "case/column_map.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "case/json_place.hpp"
#include "case/json_text.hpp"
#include "case/nearest_name.hpp"
#include "case/schema.hpp"
#include "units/error.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

double factor_of(const std::string& unit) {
  if (unit == "cm") return 10;
  if (unit == "in") return 25.4;
  if (unit == "g") return 1e-3;
  if (unit == "kPa/mm") return units::kpa;
  return 1;
}

RimEdge edge_named(const std::string& name) {
  for (const RimEdge edge : {RimEdge::crown, RimEdge::outer}) {
    if (name_of(edge) == name) return edge;
  }
  return RimEdge::inner;
}

std::optional<CushionType> meaning(const JsonPlace& place, CushionType /*kind*/) {
  const std::string name = place.text().value_or("");
  for (const CushionType type : {CushionType::nasal, CushionType::oronasal,
                                 CushionType::below_nose_oronasal, CushionType::total_face}) {
    if (name_of(type) == name) return type;
  }
  return std::nullopt;
}
std::optional<bool> meaning(const JsonPlace& place, bool /*kind*/) { return place.truth(); }

// What is at fault by the schema is read as if it were absent.
class MapReader {
 public:
  MapReader(const std::string& file, std::vector<Fault>& faults) : file_(file), faults_(faults) {}

  ColumnMap read(const JsonPlace& root) {
    out_.about = root["about"].text().value_or("");
    if (const auto separator = root["separator"].text()) {
      out_.separator = *separator == "tab" ? '\t' : separator->front();
    }
    if (const auto mark = root["decimal_mark"].text()) out_.decimal_mark = mark->front();
    if (out_.separator && out_.separator == out_.decimal_mark) {
      fault(root["decimal_mark"], "the same as the separator between columns");
    }
    out_.name = header(root["name"]);
    out_.size = header(root["size"]);
    out_.type = words<CushionType>(root["type"]);
    out_.vented = words<bool>(root["vented"]);
    out_.magnets = words<bool>(root["magnets"]);
    if (const JsonPlace place = root["anti_asphyxia_valve"]; place.present()) {
      out_.anti_asphyxia_valve = words<bool>(place);
    }
    if (const JsonPlace place = root["tube_port"]; place.present()) {
      out_.tube_port = words<bool>(place);
    }
    read_lengths(root);
    for (const auto& [key, place] : root["typical"].members()) {
      if (const auto name = place.text()) {
        for (const CushionType type : {CushionType::nasal, CushionType::oronasal,
                                       CushionType::below_nose_oronasal, CushionType::total_face}) {
          if (name_of(type) == key) out_.typical[type] = *name;
        }
      }
    }
    return std::move(out_);
  }

 private:
  void fault(const JsonPlace& place, std::string message) {
    faults_.push_back({file_, place.pointer(), std::move(message)});
  }

  std::string header(const JsonPlace& place) {
    std::string name = place.text().value_or("");
    const bool known = std::any_of(out_.headers.begin(), out_.headers.end(),
                                   [&](const auto& each) { return each.first == name; });
    if (!known && !name.empty()) out_.headers.emplace_back(name, place.pointer());
    return name;
  }

  template <typename Meaning>
  WordColumn<Meaning> words(const JsonPlace& place) {
    WordColumn<Meaning> out;
    const JsonPlace always = place["always"];
    if (place.present() && always.present() == place["column"].present()) {
      fault(place, "give either column, with means, or always");
    } else if (place["column"].present() && place["means"].members().empty()) {
      fault(place["means"], "missing; needed: what each of the column's words means");
    }
    out.always = meaning(always, Meaning{});
    if (!always.present()) out.column = header(place["column"]);
    for (const auto& [word, each] : place["means"].members()) {
      if (const auto known = meaning(each, Meaning{})) out.means[word] = *known;
    }
    return out;
  }

  // A column of numbers serves one purpose.
  NumberColumn number(const JsonPlace& place) {
    NumberColumn out{header(place["column"]), place["unit"].text().value_or("mm"), 1};
    out.factor = factor_of(out.unit);
    if (!out.column.empty() && !numbers_.insert(out.column).second) {
      fault(place["column"], fmt::format("{} holds another length already", in_quotes(out.column)));
    }
    return out;
  }

  void read_lengths(const JsonPlace& root) {
    if (const JsonPlace place = root["height"]; place.present()) {
      out_.height = HeightColumn{number(place), edge_named(place["edge"].text().value_or(""))};
    }
    std::set<std::string> levels;
    for (const JsonPlace& place : root["widths"].entries()) {
      WidthColumn width{number(place), edge_named(place["edge"].text().value_or("")), {}};
      const std::string at = place["at"].text().value_or("");
      for (const WidthLevel level : all_width_levels) {
        if (name_of(level) == at) width.at = level;
      }
      if (!at.empty() && !levels.insert(at).second) {
        fault(place["at"], fmt::format("{} is given twice", in_quotes(at)));
      }
      out_.widths.push_back(std::move(width));
    }
    if (!root["height"].present() && !root["widths"].present()) {
      fault(root["height"], "missing; needed: height, widths or both, or no rim can be scaled");
    }
    const auto optional = [&](const char* key, std::optional<NumberColumn>& column) {
      if (const JsonPlace place = root[key]; place.present()) column = number(place);
    };
    optional("rim_depth", out_.rim_depth);
    optional("lip_width", out_.lip_width);
    optional("stiffness", out_.stiffness);
    optional("travel", out_.travel);
    optional("mass", out_.mass);
  }

  const std::string& file_;
  std::vector<Fault>& faults_;
  ColumnMap out_;
  std::set<std::string> numbers_;
};

}  // namespace

ColumnMap read_column_map(std::string_view text, const std::string& file) {
  const nlohmann::json document = parse_json(text, file);
  std::vector<Fault> faults = schema_faults(document, FileKind::columns, file);
  ColumnMap out = MapReader(file, faults).read(JsonPlace(document));
  if (!faults.empty()) throw InputError(std::move(faults));
  return out;
}

}  // namespace rimload
