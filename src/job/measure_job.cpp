#include <nlohmann/json.hpp>

#include "case/face_file.hpp"
#include "case/json_text.hpp"
#include "case/schema.hpp"
#include "job/commands.hpp"
#include "report/measure_report.hpp"
#include "report/measuring_guide.hpp"
#include "report/png.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

struct Asked {
  MeasuredFace face;
  SealRegion region = SealRegion::over_nose_and_mouth;
};

Asked asked_in(const std::string& file, const ReadFile& read_file) {
  const std::string text = read_file(file);
  if (kind_of(parse_json(text, file)) != FileKind::case_file) {
    return {read_measured_face(text, file)};
  }
  Case input = read_case(text, file, read_file);
  if (!input.measured) {
    throw InputError(file, "/face", "the case gives no measurements of its wearer (measurements)");
  }
  return {std::move(*input.measured), input.cushion.type == CushionType::nasal
                                          ? SealRegion::over_nose
                                          : SealRegion::over_nose_and_mouth};
}

}  // namespace

JobOutput run_measure(const MeasureRequest& request, const ReadFile& read_file) {
  if (request.file.empty()) {
    if (!request.guide) {
      throw InputError("", "", "give a file of measurements, a case that holds some, or --guide");
    }
    const FaceModel& reference = *face_model_named("reference");
    JobOutput out;
    out.printed = measuring_guide_words();
    out.files.push_back({"measuring-guide.png",
                         png_bytes(draw_measuring_guide({.landmarks = reference.landmarks}))});
    return out;
  }
  const auto [face, region] = asked_in(request.file, read_file);
  JobOutput out;
  out.printed = measure_finding(face, region);
  out.files.push_back({"face.json", write_face(face.face)});
  out.files.push_back({"measures.csv", measures_csv(face, region)});
  out.files.push_back({"landmark-bands.csv", landmark_bands_csv(face)});
  if (request.guide) {
    const Image page = draw_measuring_guide(
        {.subtitle = face.face.title + ", the most likely; beside each name what was given.",
         .landmarks = face.face.landmarks,
         .taken = face.asked.taken});
    out.files.push_back({"measuring-guide.png", png_bytes(page)});
  }
  return out;
}

}  // namespace rimload
