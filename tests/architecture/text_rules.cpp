#include "architecture/text_rules.hpp"

#include <algorithm>
#include <array>

#include "architecture/includes.hpp"

namespace rimload::architecture {
namespace {

std::string place(const SourceFile& file, int line) {
  return file.path + ":" + std::to_string(line) + ": ";
}

/// Characters, not bytes: continuation bytes of UTF-8 do not count.
int columns_of(std::string_view line) {
  return static_cast<int>(
      std::ranges::count_if(line, [](unsigned char c) { return (c & 0xC0) != 0x80; }));
}

template <std::size_t count>
std::vector<std::string> lines_with(const SourceFile& file,
                                    const std::array<std::string_view, count>& words,
                                    bool search_comments) {
  std::vector<std::string> found;
  int number = 0;
  for (const std::string_view line : lines_of(file.text)) {
    ++number;
    const std::string_view searched = search_comments ? line : line.substr(0, line.find("//"));
    for (const std::string_view word : words) {
      if (has_word(searched, word)) found.push_back(place(file, number) + std::string(word));
    }
  }
  return found;
}

void append(std::vector<std::string>& all, std::vector<std::string> more) {
  all.insert(all.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

}  // namespace

std::vector<std::string> size_faults(std::span<const SourceFile> files) {
  std::vector<std::string> faults;
  for (const SourceFile& file : files) {
    const std::vector<std::string_view> lines = lines_of(file.text);
    if (std::ssize(lines) > most_lines) {
      faults.push_back(file.path + ": " + std::to_string(lines.size()) + " lines");
    }
    int number = 0;
    for (const std::string_view line : lines) {
      ++number;
      const int columns = columns_of(line);
      if (columns > most_columns) {
        faults.push_back(place(file, number) + std::to_string(columns) + " columns");
      }
    }
  }
  return faults;
}

std::vector<std::string> unfinished_work(std::span<const SourceFile> files) {
  // Each in two parts, or this file would be found.
  static constexpr std::array<std::string_view, 3> words{
      "TO"
      "DO",
      "FIX"
      "ME",
      "XX"
      "X"};
  std::vector<std::string> found;
  for (const SourceFile& file : files) append(found, lines_with(file, words, true));
  return found;
}

std::vector<std::string> side_effects(std::span<const SourceFile> files) {
  static constexpr std::array<std::string_view, 24> words{
      "std::cout",     "std::cerr",    "std::clog",     "<iostream>",   "<print>",
      "printf",        "fprintf",      "puts",          "fputs",        "putchar",
      "fmt::print",    "fmt::println", "ofstream",      "fopen",        "getenv",
      "secure_getenv", "<chrono>",     "<ctime>",       "system_clock", "steady_clock",
      "clock_gettime", "gettimeofday", "random_device", "std::rand"};
  const int report_level = module_of("src/report/report.hpp")->level;
  std::vector<std::string> found;
  for (const SourceFile& file : files) {
    const std::optional<Module> module = module_of(file.path);
    if (module && module->level < report_level) append(found, lines_with(file, words, false));
  }
  return found;
}

std::vector<std::string> headers_without_comment(std::span<const SourceFile> files) {
  std::vector<std::string> found;
  for (const SourceFile& file : files) {
    if (is_header(file) && !file.text.starts_with("//")) found.push_back(file.path);
  }
  return found;
}

std::vector<std::string> top_level_faults(std::span<const std::string> names) {
  static constexpr std::array<std::string_view, 9> allowed{
      "CMakeLists.txt", "README.md", "DEVELOPERS.md", "LICENSE", "src",
      "geometry",       "tests",     "face-models",   "demo"};
  std::vector<std::string> faults;
  for (const std::string& name : names) {
    if (name.starts_with('.') || name.starts_with("build")) continue;
    if (std::ranges::find(allowed, name) == allowed.end()) faults.push_back(name + ": not allowed");
  }
  for (const std::string_view name : allowed) {
    if (std::ranges::find(names, name) == names.end()) {
      faults.push_back(std::string(name) + ": missing");
    }
  }
  return faults;
}

}  // namespace rimload::architecture
