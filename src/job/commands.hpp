// The commands behind `run_job`, one a file. They throw; `run_job` catches.
#pragma once

#include <functional>

#include "job/job.hpp"

namespace rimload {

/// What the work gives; an exception of it becomes an end and a complaint.
[[nodiscard]] JobOutput guarded(const std::function<JobOutput()>& work);

/// @throws InputError when the case is at fault
[[nodiscard]] JobOutput run_fit(const FitRequest& request, const ReadFile& read_file,
                                const Progress& progress);
/// @throws InputError when the case is at fault
[[nodiscard]] JobOutput run_straps(const StrapsRequest& request, const ReadFile& read_file);
/// @throws InputError when the case is at fault or there is no such site
[[nodiscard]] JobOutput run_section(const SectionRequest& request, const ReadFile& read_file);
/// @throws InputError when the case is at fault or names no dressings
[[nodiscard]] JobOutput run_dressing(const DressingRequest& request, const ReadFile& read_file,
                                     const Progress& progress);
/// @throws InputError when the case is at fault
[[nodiscard]] JobOutput run_sizes(const SizesRequest& request, const ReadFile& read_file,
                                  const Progress& progress);
/// @throws InputError when the case is at fault or tells nothing seen
[[nodiscard]] JobOutput run_seen(const SeenRequest& request, const ReadFile& read_file,
                                 const Progress& progress);
/// @throws InputError when the file is at fault, gives no measurements, or no face has them
[[nodiscard]] JobOutput run_measure(const MeasureRequest& request, const ReadFile& read_file);
/// @throws InputError when the file is no scan, or shows no face
[[nodiscard]] JobOutput run_scan(const ScanRequest& request, const ReadFile& read_file);
/// @throws InputError with every fault of the table, the map and the catalogue
[[nodiscard]] JobOutput run_catalogue(const CatalogueRequest& request, const ReadFile& read_file);
/// @throws InputError when the catalogue is at fault
[[nodiscard]] JobOutput run_card(const CardRequest& request, const ReadFile& read_file);
[[nodiscard]] JobOutput run_check(const CheckRequest& request, const ReadFile& read_file);
/// @throws InputError when there is no such face, or its file is at fault
[[nodiscard]] JobOutput run_face(const FaceRequest& request, const ReadFile& read_file);
/// @throws InputError when there is no such schema
[[nodiscard]] JobOutput run_schema(const SchemaRequest& request);
/// @throws InternalError when the program was built without the page
[[nodiscard]] JobOutput run_page(const PageRequest& request);

/// As many threads as the machine runs at once; in a browser one.
[[nodiscard]] int n_threads_here();

}  // namespace rimload
