#include "report/import_report.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "report/finding_cautions.hpp"
#include "report/finding_lines.hpp"

namespace rimload {

namespace {

std::string listed(const std::vector<std::string>& words) {
  return fmt::format("{}", fmt::join(words, ", "));
}

}  // namespace

std::string import_report(const ImportedCushions& imported) {
  constexpr std::size_t most_lines = 100000;
  FindingLines out(most_lines);
  const auto add = [&](const std::string& line) { out.add(FindingLines::always, line); };
  const std::vector<Cushion>& cushions = imported.catalogue.cushions;
  add(fmt::format("{} cushion{} and size{} made.", cushions.size(), cushions.size() == 1 ? "" : "s",
                  cushions.size() == 1 ? "" : "s"));
  for (const auto& [type, label] : imported.typical) {
    add(fmt::format("Typical {} cushion, scaled to the table: {}.", words_for(type), label));
  }
  std::vector<CushionField> of_all;
  for (const CushionField field : all_cushion_fields) {
    std::vector<std::string> some;
    for (const Cushion& cushion : cushions) {
      if (cushion.is_assumed(field)) some.push_back(cushion.name + " " + cushion.size);
    }
    if (some.size() == cushions.size()) {
      of_all.push_back(field);
    } else if (!some.empty()) {
      add(fmt::format("Assumed of some, {}: {}.", words_for(field), listed(some)));
    }
  }
  if (!of_all.empty()) {
    add("Assumed of all, since the table doesn't say: " + words_for(of_all) +
        ". Bands over draws are wider for it.");
  }
  add(imported.unused_columns.empty()
          ? std::string("Every column of the table was used.")
          : "Columns of the table that were not used: " + listed(imported.unused_columns) + ".");
  for (const auto& [before, after] : imported.renamed) {
    add(fmt::format("Name: '{}' is '{}' in the catalogue.", before, after));
  }
  add("Rims scaled to a few lengths are no product's shape: compare sizes with them, and look at "
      "the face with the mask on.");
  add(standing_line());
  return out.text();
}

}  // namespace rimload
