#include <fmt/format.h>

#include <cmath>

#include "case/face_file.hpp"
#include "case/json_text.hpp"
#include "case/landmark_file.hpp"
#include "job/commands.hpp"
#include "report/png.hpp"
#include "report/scan_page.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

// To a thousandth of a millimetre, so that a person can read and change the numbers.
std::vector<ScanLandmark> rounded(std::vector<ScanLandmark> landmarks, double mm_per_unit) {
  const double steps = std::pow(10, std::ceil(std::log10(1000 * mm_per_unit)));
  for (ScanLandmark& each : landmarks) {
    each.position_scan = (each.position_scan * steps).array().round() / steps;
  }
  return landmarks;
}

}  // namespace

JobOutput run_scan(const ScanRequest& request, const ReadFile& read_file) {
  const std::string bytes = read_file(request.scan_file);
  if (bytes.size() > max_json_bytes) {
    throw InputError(request.scan_file, "",
                     fmt::format("larger than the {} MiB that are read; thin the scan out",
                                 max_json_bytes >> 20U));
  }
  std::optional<ScanUnit> unit;
  if (!request.unit.empty()) {
    unit = scan_unit_named(request.unit);
    if (!unit) {
      throw InputError("", "--unit",
                       fmt::format("there is no unit '{}'; valid: mm, cm, inch, m", request.unit));
    }
  }
  const ScanMesh scan = read_scan(bytes, request.scan_file);
  const std::vector<Landmark>& reference = face_model_named("reference")->landmarks;
  JobOutput out;
  try {
    const ScanProposal proposal = propose_landmarks(scan, reference, unit);
    out.printed = scan_words(scan, proposal);
    out.files.push_back(
        {"landmarks.json",
         write_landmark_file(
             {rounded(proposal.found(), proposal.registration.mm_per_unit), false})});
    out.files.push_back({"scan.png", png_bytes(draw_scan_page(scan.mesh, proposal))});
  } catch (const InputError& error) {
    throw InputError(request.scan_file, "", error.faults().front().message);
  }
  return out;
}

}  // namespace rimload
