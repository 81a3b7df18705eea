#include "case/supplier_table.hpp"
#include "case/write_catalogue.hpp"
#include "job/commands.hpp"
#include "report/import_report.hpp"

namespace rimload {

JobOutput run_catalogue(const CatalogueRequest& request, const ReadFile& read_file) {
  const std::string columns = read_file(request.columns_file);
  const std::string like = read_file(request.like_file);
  const std::string table = read_file(request.table_file);
  const ImportedCushions imported = import_cushions({.table = {request.table_file, table},
                                                     .columns = {request.columns_file, columns},
                                                     .like = {request.like_file, like}});
  std::string text = write_catalogue(imported.catalogue);
  // Whoever opens it finds it sound.
  (void)read_catalogue(text, "the catalogue made of " + request.table_file);
  JobOutput out;
  out.printed = import_report(imported);
  out.files.push_back({"catalogue.json", std::move(text)});
  return out;
}

}  // namespace rimload
