#include "case/supplier_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "case/nearest_name.hpp"
#include "case/rim_check.hpp"
#include "case/scaled_cushion.hpp"
#include "case/schema.hpp"
#include "case/table_cells.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

// What a catalogue allows of a lip, in its own units.
Limits limits_of(const char* key) {
  static const auto lip = nlohmann::json::parse(schema_text(FileKind::catalogue))
                              .at("/definitions/lip/properties"_json_pointer);
  return {lip.at(key).at("minimum").get<double>(), lip.at(key).at("maximum").get<double>()};
}

std::string label_of(const Cushion& cushion) { return cushion.name + " " + cushion.size; }

// Letters, digits, - and _; anything else becomes one -.
std::string plain_name(const std::string& name) {
  constexpr std::size_t longest = 80;
  std::string out;
  for (const char c : name) {
    const bool kept = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                      c == '_' || c == '-';
    if (kept) {
      out += c;
    } else if (!out.empty() && out.back() != '-') {
      out += '-';
    }
  }
  while (!out.empty() && out.back() == '-') out.pop_back();
  return out.substr(0, longest);
}

class Importer {
 public:
  explicit Importer(const SupplierTable& input)
      : input_(input),
        map_(read_column_map(input.columns.text, input.columns.file)),
        like_(read_catalogue(input.like.text, input.like.file)),
        table_(read_csv(input.table.text, input.table.file, map_.separator, faults_)),
        cells_(table_, map_, input.table.file, faults_) {}

  ImportedCushions run() {
    if (table_.header.fields.empty()) {
      if (faults_.empty()) faults_.push_back({input_.table.file, "", "holds no header"});
      throw InputError(std::move(faults_));
    }
    check_headers();
    find_typical();
    for (const CsvRow& row : table_.rows) read_row(row);
    if (table_.rows.empty() && faults_.empty()) {
      faults_.push_back({input_.table.file, "", "holds a header, but no row"});
    }
    if (!faults_.empty()) throw InputError(std::move(faults_));
    group_by_name();
    out_.catalogue.about = about();
    return std::move(out_);
  }

 private:
  void check_headers() {
    const auto& headers = table_.header.fields;
    for (const auto& [name, pointer] : map_.headers) {
      const auto n = std::count(headers.begin(), headers.end(), name);
      if (n == 1) continue;
      headers_sound_ = false;
      faults_.push_back({input_.columns.file, pointer,
                         n == 0 ? fmt::format("the table has no column {}{}", in_quotes(name),
                                              name_hint(name, headers))
                                : fmt::format("the table has {} columns {}", n, in_quotes(name))});
    }
    for (std::size_t k = 0; k < headers.size(); ++k) {
      const bool named = std::any_of(map_.headers.begin(), map_.headers.end(),
                                     [&](const auto& each) { return each.first == headers[k]; });
      if (named) continue;
      out_.unused_columns.push_back(
          headers[k].empty() ? fmt::format("column {}, which has no header", k + 1) : headers[k]);
    }
  }

  void find_typical() {
    for (const CushionType type : {CushionType::nasal, CushionType::oronasal,
                                   CushionType::below_nose_oronasal, CushionType::total_face}) {
      const auto wanted = map_.typical.find(type);
      std::vector<std::pair<double, const Cushion*>> found;
      std::vector<std::string> names;
      for (const Cushion& cushion : like_.cushions) {
        if (cushion.type != type) continue;
        names.push_back(cushion.name);
        if (wanted != map_.typical.end() && cushion.name != wanted->second) continue;
        found.emplace_back(sample_rim(cushion.rim, {}).perimeter_mm, &cushion);
      }
      if (found.empty() && wanted != map_.typical.end()) {
        faults_.push_back(
            {input_.columns.file, fmt::format("/typical/{}", name_of(type)),
             fmt::format("{} has no {} cushion {}{}", input_.like.file, words_for(type),
                         in_quotes(wanted->second), name_hint(wanted->second, names))});
      }
      std::stable_sort(found.begin(), found.end(),
                       [](const auto& a, const auto& b) { return a.first < b.first; });
      if (!found.empty()) typical_[type] = found[(found.size() - 1) / 2].second;
    }
  }

  void read_row(const CsvRow& row) {
    if (!headers_sound_) return;
    const auto name = cells_.needed_text(row, map_.name);
    const auto size = cells_.needed_text(row, map_.size);
    const auto type = cells_.meaning(row, map_.type);
    const auto vented = cells_.meaning(row, map_.vented);
    const auto magnets = cells_.meaning(row, map_.magnets);
    std::optional<bool> valve = false;
    std::optional<bool> port = false;
    if (map_.anti_asphyxia_valve) valve = cells_.meaning(row, *map_.anti_asphyxia_valve);
    if (map_.tube_port) port = cells_.meaning(row, *map_.tube_port);
    const std::size_t n_before = faults_.size();
    const CushionDimensions given = dimensions(row);
    if (!name || !size || !type || !vented || !magnets || !valve || !port) return;
    const auto typical = typical_.find(*type);
    if (typical == typical_.end()) {
      if (map_.typical.contains(*type)) return;  // said already
      cells_.fault(row, map_.type.column,
                   fmt::format("{} has no {} cushion to take as typical", input_.like.file,
                               words_for(*type)));
      return;
    }
    if (faults_.size() > n_before) return;
    if (!given.height && given.widths.empty()) {
      cells_.fault(row, "", "gives neither a height nor a width: no rim can be scaled");
      return;
    }
    ScaledCushion scaled = scaled_to(*typical->second, given);
    for (const DimensionFault& each : scaled.faults) {
      const std::string column = column_of(each);
      cells_.fault(row, column,
                   fmt::format("{}: {}", in_quotes(cells_.text(row, column)), each.message));
    }
    if (!scaled.faults.empty()) return;
    Cushion& cushion = scaled.cushion;
    cushion.name = plain_name(*name);
    cushion.size = plain_name(*size);
    cushion.vented = *vented;
    cushion.magnets = *magnets;
    cushion.anti_asphyxia_valve = *valve;
    cushion.tube_port = *port;
    if (!map_.anti_asphyxia_valve) cushion.assumed.push_back(CushionField::anti_asphyxia_valve);
    if (!map_.tube_port) cushion.assumed.push_back(CushionField::tube_port);
    out_.typical[*type] = label_of(*typical->second);
    check_rim(row, cushion);
    check_beside_others(row, *name, cushion);
    lines_.push_back(row.line);
    out_.catalogue.cushions.push_back(std::move(cushion));
  }

  // Only what a column gives can be at fault.
  [[nodiscard]] std::string column_of(const DimensionFault& fault) const {
    if (fault.field == CushionField::width) return width_columns_[fault.width];
    return fault.field == CushionField::height ? map_.height->number.column
                                               : map_.rim_depth->column;
  }

  CushionDimensions dimensions(const CsvRow& row) {
    CushionDimensions out;
    if (map_.height) {
      if (const auto mm = cells_.number(row, map_.height->number)) {
        out.height = GivenHeight{*mm, map_.height->edge};
      }
    }
    width_columns_.clear();
    for (const WidthColumn& width : map_.widths) {
      if (const auto mm = cells_.number(row, width.number)) {
        out.widths.push_back({*mm, width.edge, width.at});
        width_columns_.push_back(width.number.column);
      }
    }
    const auto read = [&](const std::optional<NumberColumn>& column, std::optional<double>& value,
                          const std::optional<Limits>& limits) {
      if (column) value = cells_.number(row, *column, limits);
    };
    const Limits stiffness = limits_of("stiffness_kPa_per_mm");
    read(map_.rim_depth, out.rim_depth_mm, Limits{1, 150});
    read(map_.lip_width, out.lip_width_mm, limits_of("width_mm"));
    read(map_.travel, out.travel_mm, limits_of("travel_mm"));
    read(map_.stiffness, out.stiffness_n_mm3,
         Limits{units::from_kpa(stiffness.low), units::from_kpa(stiffness.high)});
    read(map_.mass, out.mass_kg, Limits{0.001, 1});
    return out;
  }

  // As `read_catalogue` asks of a rim.
  void check_rim(const CsvRow& row, const Cushion& cushion) {
    const auto& controls = cushion.rim.controls;
    const std::size_t n_half = controls.size() / 2 + 1;
    const std::vector<RimControl> half(controls.begin(),
                                       controls.begin() + static_cast<std::ptrdiff_t>(n_half));
    std::vector<RimFault> wrong = half_rim_faults(half);
    if (wrong.empty()) {
      if (auto fold = folded_lip(cushion.rim, n_half)) wrong.push_back(std::move(*fold));
    }
    for (const RimFault& each : wrong) {
      cells_.fault(row, "", "the rim made of these dimensions is at fault: " + each.message);
    }
  }

  // One size once; what sizes of one cushion share.
  void check_beside_others(const CsvRow& row, const std::string& name, const Cushion& cushion) {
    if (cushion.name.empty() || cushion.size.empty()) {
      const std::string& column = cushion.name.empty() ? map_.name : map_.size;
      cells_.fault(row, column,
                   fmt::format("{} holds no letter or digit", in_quotes(cells_.text(row, column))));
      return;
    }
    const auto [named, is_new] = given_names_.emplace(cushion.name, name);
    if (is_new && cushion.name != name) out_.renamed.emplace_back(name, cushion.name);
    if (!is_new && named->second != name) {
      cells_.fault(row, map_.name,
                   fmt::format("{} and {} both become '{}': tell them apart", in_quotes(name),
                               in_quotes(named->second), cushion.name));
      return;
    }
    for (std::size_t k = 0; k < out_.catalogue.cushions.size(); ++k) {
      const Cushion& other = out_.catalogue.cushions[k];
      if (other.name != cushion.name) continue;
      if (other.size == cushion.size) {
        cells_.fault(row, map_.size,
                     fmt::format("'{}' of '{}' is in line {} already", cushion.size, cushion.name,
                                 lines_[k]));
        return;
      }
      const bool alike = other.type == cushion.type && other.vented == cushion.vented &&
                         other.magnets == cushion.magnets && other.tube_port == cushion.tube_port &&
                         other.anti_asphyxia_valve == cushion.anti_asphyxia_valve;
      if (!alike) {
        cells_.fault(row, map_.name,
                     fmt::format("'{}' is of another type, vent, magnets, valve or port in line "
                                 "{}: sizes of one cushion share these",
                                 cushion.name, lines_[k]));
        return;
      }
    }
  }

  void group_by_name() {
    std::map<std::string, std::size_t> first;
    for (const Cushion& cushion : out_.catalogue.cushions)
      first.emplace(cushion.name, first.size());
    std::stable_sort(
        out_.catalogue.cushions.begin(), out_.catalogue.cushions.end(),
        [&](const Cushion& a, const Cushion& b) { return first.at(a.name) < first.at(b.name); });
  }

  [[nodiscard]] std::string about() const {
    const auto bare_name = [](const std::string& path) {
      return path.substr(path.find_last_of('/') + 1);
    };
    std::string out = map_.about.empty() ? "" : map_.about + " ";
    return out + fmt::format(
                     "Made of the table {} by the columns {}; each rim is that of a typical "
                     "cushion of {} scaled to the table's dimensions. What is listed as "
                     "assumed is the typical cushion's.",
                     bare_name(input_.table.file), bare_name(input_.columns.file),
                     bare_name(input_.like.file));
  }

  const SupplierTable& input_;
  std::vector<Fault> faults_;
  ColumnMap map_;
  Catalogue like_;
  CsvTable table_;
  TableCells cells_;
  ImportedCushions out_;
  bool headers_sound_ = true;
  std::map<CushionType, const Cushion*> typical_;
  std::vector<std::string> width_columns_;  // of the row's given widths
  std::vector<std::size_t> lines_;          // of the cushions so far
  std::map<std::string, std::string> given_names_;
};

}  // namespace

ImportedCushions import_cushions(const SupplierTable& input) { return Importer(input).run(); }

}  // namespace rimload
