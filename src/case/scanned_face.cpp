#include "case/scanned_face.hpp"

#include <fmt/format.h>

#include <optional>
#include <vector>

#include "case/face_file.hpp"
#include "case/json_text.hpp"
#include "case/landmark_file.hpp"
#include "case/nearest_name.hpp"
#include "geometry/scan_face.hpp"
#include "geometry/scan_limits.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

// The bytes of a file that the case names; that it can't be had is a fault at that place.
std::string bytes_at(const JsonPlace& place, const std::string& case_file, const std::string& path,
                     const ReadFile& read_file) {
  try {
    return read_file(path);
  } catch (const InputError& error) {
    throw InputError(case_file, place.pointer(),
                     in_quotes(path) + ": " + error.faults().front().message);
  }
}

std::vector<ScanLandmark> marked_at(const JsonPlace& place, const std::string& case_file,
                                    const ReadFile& read_file) {
  if (const auto name = place.text()) {
    const std::string path = path_beside(case_file, *name);
    LandmarkFile file = read_landmark_file(bytes_at(place, case_file, path, read_file), path);
    if (!file.confirmed) throw not_confirmed(path);
    return std::move(file.landmarks);
  }
  std::vector<ScanLandmark> out;
  for (const JsonPlace& each : place.entries()) {
    const auto name = each["name"].text();
    const auto side = side_named(each["side"].text().value_or("midline"));
    const auto at = each["at_scan_units"].triple();
    if (name && side && at) out.push_back({*name, *side, *at});
  }
  return out;
}

void refuse_poor(const ScannedFace& scanned) {
  const ScanReading& seal = scanned.seal;
  const double missing = seal.hole_share + seal.rejected_share;
  if (seal.landmarks_rms_mm > scan_limits().seal_rms_refused_mm) {
    throw InputError("", "",
                     fmt::format("where rims go the scan lies {:.1f} mm from the skin found, more "
                                 "than {:g} mm: are the points marked where their names say?",
                                 seal.landmarks_rms_mm, scan_limits().seal_rms_refused_mm));
  }
  if (missing > scan_limits().seal_missing_refused) {
    throw InputError("", "",
                     fmt::format("{:.0f} % of the skin where rims go is missing on the scan, or "
                                 "lies under hair; more than {:.0f} % is too much to fill",
                                 100 * missing, 100 * scan_limits().seal_missing_refused));
  }
}

}  // namespace

FaceOfScan scanned_face(const JsonPlace& place, const std::string& case_file,
                        const ReadFile& read_file) {
  const std::string file = path_beside(case_file, place["file"].text().value_or(""));
  const std::string bytes = bytes_at(place["file"], case_file, file, read_file);
  if (bytes.size() > max_json_bytes) {
    throw InputError(file, "",
                     fmt::format("larger than the {} MiB that are read; thin the scan out",
                                 max_json_bytes >> 20U));
  }
  const auto unit_name = place["unit"].text();
  const std::optional<ScanUnit> unit = unit_name ? scan_unit_named(*unit_name) : std::nullopt;
  const std::vector<Landmark>& reference = face_model_named("reference")->landmarks;
  const std::vector<ScanLandmark> marked = marked_at(place["landmarks"], case_file, read_file);
  const ScanMesh mesh = read_scan(bytes, file);
  try {
    const ScannedFace scanned = face_of_scan(mesh, marked, reference, unit);
    refuse_poor(scanned);
    // As strict as with a face that somebody wrote.
    return {read_face_file(write_face(scanned.face), file), scanned.remarks,
            scanned.seal.landmarks_rms_mm};
  } catch (const InputError& error) {
    std::vector<Fault> faults = error.faults();
    for (Fault& fault : faults) {
      if (!fault.file.empty()) continue;
      fault.file = case_file;
      fault.path = place.pointer() + fault.path;
    }
    throw InputError(std::move(faults));
  }
}

}  // namespace rimload
