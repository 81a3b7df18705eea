#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "case/catalogue.hpp"
#include "case/column_map.hpp"
#include "case/dressing_catalogue.hpp"
#include "case/face_file.hpp"
#include "case/json_text.hpp"
#include "case/landmark_file.hpp"
#include "case/schema.hpp"
#include "job/commands.hpp"
#include "report/result_json.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

// What a sound file holds, in a few words.
std::string landmarks_verdict(const std::string& text, const std::string& file) {
  const LandmarkFile found = read_landmark_file(text, file);
  return fmt::format("sound, {} landmarks of a scan{}", found.landmarks.size(),
                     found.confirmed ? "" : "; not confirmed yet, so that a case refuses it");
}

std::string verdict_on(const std::string& file, const ReadFile& read_file) {
  const std::string text = read_file(file);
  if (is_csv(file)) return landmarks_verdict(text, file);
  const auto kind = kind_of(parse_json(text, file));
  if (!kind) {
    throw InputError(
        file, "",
        "can't tell what this file is: at its top a case has \"rimload_case\": 1, a "
        "catalogue \"rimload_catalogue\": 1, a face \"rimload_face\": 1, dressings "
        "\"rimload_dressings\": 1, measurements \"rimload_measurements\": 1, a column map "
        "\"rimload_columns\": 1, landmarks of a scan \"rimload_landmarks\": 1");
  }
  switch (*kind) {
    case FileKind::catalogue: {
      const std::size_t n = read_catalogue(text, file).cushions.size();
      return fmt::format("a sound catalogue, {} cushion{} and size{}", n, n == 1 ? "" : "s",
                         n == 1 ? "" : "s");
    }
    case FileKind::face: {
      const FaceModel face = read_face_file(text, file);
      return fmt::format("a sound face, '{}', {} landmarks", face.name, face.landmarks.size());
    }
    case FileKind::dressings: {
      const std::size_t n = read_dressings(text, file).dressings.size();
      return fmt::format("a sound catalogue of {} dressing{}", n, n == 1 ? "" : "s");
    }
    case FileKind::measurements: {
      const MeasuredFace face = read_measured_face(text, file);
      const std::size_t n = face.asked.taken.size();
      return fmt::format("sound, {} measurement{} of a face among {}", n, n == 1 ? "" : "s",
                         face.population);
    }
    case FileKind::columns: {
      const std::size_t n = read_column_map(text, file).headers.size();
      return fmt::format("a sound column map, {} column{}", n, n == 1 ? "" : "s");
    }
    case FileKind::landmarks: return landmarks_verdict(text, file);
    case FileKind::case_file: break;
  }
  const Case input = read_case(text, file, read_file);
  return fmt::format("a sound case, '{}': {} {} on {}", input.name, input.cushion.name,
                     input.cushion.size, input.face.name);
}

}  // namespace

JobOutput run_check(const CheckRequest& request, const ReadFile& read_file) {
  JobOutput out;
  std::size_t n_faults = 0;
  for (const std::string& file : request.files) {
    try {
      out.printed += fmt::format("{}: {}\n", file, verdict_on(file, read_file));
    } catch (const InputError& error) {
      for (const Fault& fault : error.faults()) out.printed += describe(fault) + "\n";
      n_faults += error.faults().size();
    }
  }
  if (n_faults > 0) {
    out.end = JobEnd::input_at_fault;
    out.printed += fmt::format("{} fault{}\n", n_faults, n_faults == 1 ? "" : "s");
  }
  return out;
}

JobOutput run_schema(const SchemaRequest& request) {
  JobOutput out;
  if (request.name == "result") {
    out.printed = result_schema_text();
    return out;
  }
  std::string known;
  for (const FileKind kind : file_kinds) {
    if (name_of(kind) == request.name) {
      out.printed = schema_text(kind);
      return out;
    }
    known += std::string(name_of(kind)) + ", ";
  }
  throw InputError("", "",
                   fmt::format("there is no schema '{}'; valid: {}result", request.name, known));
}

}  // namespace rimload
