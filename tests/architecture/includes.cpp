#include "architecture/includes.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace rimload::architecture {
namespace {

struct Include {
  int line = 0;
  bool angled = false;
  std::string_view target;
};

std::vector<Include> includes_of(const SourceFile& file) {
  std::vector<Include> includes;
  int number = 0;
  for (std::string_view line : lines_of(file.text)) {
    ++number;
    const auto skip_blanks = [&line] {
      line.remove_prefix(std::min(line.find_first_not_of(" \t"), line.size()));
    };
    skip_blanks();
    if (!line.starts_with('#')) continue;
    line.remove_prefix(1);
    skip_blanks();
    if (!line.starts_with("include")) continue;
    const std::size_t open = line.find_first_of("<\"");
    if (open == std::string_view::npos) continue;
    const std::size_t close = line.find_first_of(">\"", open + 1);
    if (close == std::string_view::npos) continue;
    includes.push_back({number, line[open] == '<', line.substr(open + 1, close - open - 1)});
  }
  return includes;
}

std::string_view first_folder(std::string_view path) {
  const std::size_t slash = path.find('/');
  return slash == std::string_view::npos ? std::string_view() : path.substr(0, slash);
}

std::optional<Module> module_named(std::string_view name) {
  const auto* found = std::ranges::find(module_order, name, &Module::name);
  if (found == module_order.end()) return std::nullopt;
  return *found;
}

/// As an include names it: `src/leak/seal.hpp` is included as `leak/seal.hpp`.
std::string_view include_name(std::string_view path) {
  return path.starts_with("src/") ? path.substr(4) : path;
}

constexpr std::string_view data_suffix = "_data.hpp";

std::string fault_of(const Include& include, const Module& from) {
  const std::string_view target = include.target;
  const std::optional<Module> to = module_named(first_folder(target));
  if (include.angled) return to ? "write our own headers in quotes" : "";
  if (target.find("./") != std::string_view::npos) return "a relative path; start at the module";
  if (!to && target.find('/') == std::string_view::npos && target.ends_with(data_suffix)) {
    const std::string_view owner = target.substr(0, target.size() - data_suffix.size());
    return owner == from.name ? "" : "embedded data is for its own module alone";
  }
  if (!to) return "its folder is not in the order of modules";
  if (to->name != from.name && to->level >= from.level) {
    return std::string(from.name) + " may not use " + std::string(to->name);
  }
  return "";
}

}  // namespace

std::optional<Module> module_of(std::string_view path) {
  return module_named(first_folder(include_name(path)));
}

std::vector<std::string> include_faults(std::span<const SourceFile> files) {
  std::vector<std::string> faults;
  for (const SourceFile& file : files) {
    const std::optional<Module> from = module_of(file.path);
    if (!from) {
      faults.push_back(file.path + ": its folder is not in the order of modules");
      continue;
    }
    for (const Include& include : includes_of(file)) {
      const std::string fault = fault_of(include, *from);
      if (fault.empty()) continue;
      faults.push_back(file.path + ":" + std::to_string(include.line) + ": include of " +
                       std::string(include.target) + ": " + fault);
    }
  }
  return faults;
}

std::vector<std::string> include_cycles(std::span<const SourceFile> files) {
  std::map<std::string_view, std::set<std::string_view>> reach;
  for (const SourceFile& file : files) {
    auto& targets = reach[include_name(file.path)];
    for (const Include& include : includes_of(file)) targets.insert(include.target);
  }
  // Close the relation: whatever an included file includes is included too.
  for (bool grew = true; grew;) {
    grew = false;
    for (auto& [name, targets] : reach) {
      const std::set<std::string_view> before = targets;
      for (const std::string_view target : before) {
        const auto next = reach.find(target);
        if (next != reach.end()) targets.insert(next->second.begin(), next->second.end());
      }
      grew = grew || targets.size() != before.size();
    }
  }
  std::vector<std::string> cycles;
  for (const auto& [name, targets] : reach) {
    if (targets.contains(name)) cycles.push_back(std::string(name) + " includes itself");
  }
  return cycles;
}

}  // namespace rimload::architecture
