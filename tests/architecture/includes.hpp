// Which module may include which: the one-way order of the project.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "architecture/source_file.hpp"

namespace rimload::architecture {

/// A module may include itself and every module of a lower level, none of its own level.
struct Module {
  std::string_view name;
  int level;
};

inline constexpr std::array module_order{
    Module{"units", 0}, Module{"geometry", 1}, Module{"material", 2}, Module{"contact", 3},
    Module{"leak", 4},  Module{"skin", 4},     Module{"dressing", 5}, Module{"case", 6},
    Module{"fit", 7},   Module{"choice", 8},   Module{"study", 9},    Module{"report", 10},
    Module{"job", 11},  Module{"cli", 12},     Module{"page", 12}};

/// The module a file belongs to: `geometry/rim.hpp` to geometry, `src/leak/seal.hpp` to leak.
/// Nothing when its folder is not in the order.
[[nodiscard]] std::optional<Module> module_of(std::string_view path);

/// A faulty include, as `file:line: what is wrong`, for each that
/// - goes to a module to the right, or beside (leak and skin);
/// - is relative (`../`), or names one of our headers in angle brackets;
/// - takes in the embedded data of another module;
/// - or stands in a file of a folder that the order does not know.
[[nodiscard]] std::vector<std::string> include_faults(std::span<const SourceFile> files);

/// One line for each header that, by way of others, includes itself.
[[nodiscard]] std::vector<std::string> include_cycles(std::span<const SourceFile> files);

}  // namespace rimload::architecture
