#include <fmt/format.h>

#include "case/face_file.hpp"
#include "case/nearest_name.hpp"
#include "geometry/mesh.hpp"
#include "job/commands.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

FaceModel find_face(const std::string& name, const ReadFile& read_file) {
  if (const FaceModel* face = face_model_named(name)) return *face;
  if (name.find_first_of("./") == std::string::npos) {
    throw InputError(
        "", "",
        fmt::format("there is no face model '{}'{}", name, name_hint(name, face_model_names())));
  }
  return read_face_file(read_file(name), name);
}

const char* ending_of(MeshFormat format) {
  switch (format) {
    case MeshFormat::obj: return ".obj";
    case MeshFormat::stl: return ".stl";
    case MeshFormat::ply: break;
  }
  return ".ply";
}

}  // namespace

JobOutput run_face(const FaceRequest& request, const ReadFile& read_file) {
  constexpr double least_mm = 0.2;
  constexpr double most_mm = 20;
  if (!(request.spacing_mm >= least_mm && request.spacing_mm <= most_mm)) {
    throw InputError("", "",
                     fmt::format("a spacing of {} mm is out of range; allowed: {} to {} mm",
                                 request.spacing_mm, least_mm, most_mm));
  }
  const FaceModel face = find_face(request.face, read_file);
  const SkinMap skin(face.landmarks);
  const TriangleMesh mesh = make_mesh(skin, face_region(face.landmarks), request.spacing_mm);
  JobOutput out;
  out.printed = fmt::format(
      "{}: {} triangles, millimetres, origin at sellion, x to the wearer's "
      "left, y up, z forward\n{}\n",
      face.title, mesh.triangles.size(), face.provenance);
  out.files.push_back(
      {std::string("face") + ending_of(request.format), write_mesh(mesh, request.format)});
  return out;
}

}  // namespace rimload
