// A case file: read, checked, defaults filled in.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "case/case.hpp"
#include "case/catalogue.hpp"

namespace rimload {

/// Gives the text of a file by its path, so that a case can be read from a disk or from a page.
/// @throws InputError when there is no such file
using ReadFile = std::function<std::string(const std::string& path)>;

/// A catalogue's text and its file's name in, the catalogue out; throws as `read_catalogue`.
using ReadCatalogue = std::function<Catalogue(std::string_view text, const std::string& file)>;

/// Where a path lies that is written in a file: relative to that file's folder.
[[nodiscard]] std::string path_beside(const std::string& file, const std::string& path);

/// Reads a case, format `src/case/schema/case.schema.json`, with its face and its cushion.
///
/// Beyond the schema: one kind of settings, inspiratory above expiratory pressure; a face and a
/// cushion that exist; every strap with one tension, or a word that goes with the cushion's type;
/// a side for skin that has two. What is left out is filled in and listed in `Case::defaulted`.
/// @param file the case's name: messages show it, and paths in the case start from its folder
/// @throws InputError with every fault found, those of the files it names included
/// @param catalogue_of reads the catalogue; a caller that asks often can remember the last one
[[nodiscard]] Case read_case(std::string_view text, const std::string& file,
                             const ReadFile& read_file,
                             const ReadCatalogue& catalogue_of = read_catalogue);

}  // namespace rimload
