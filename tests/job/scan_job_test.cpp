// Landmarks proposed on a scan, by way of the facade.
#include "case/landmark_file.hpp"
#include "case/sample_files.hpp"
#include "catch.hpp"
#include "geometry/mesh_file.hpp"
#include "geometry/skin_map.hpp"
#include "job/job.hpp"
#include "stored_face.hpp"

using namespace rimload;

namespace {

// The adult male face in cm, z upwards, as a device has it.
const std::string& scan_bytes() {
  static const std::string bytes = [] {
    const std::vector<Landmark> face = stored_face("adult-male").landmarks;
    TriangleMesh mesh = make_mesh(SkinMap(face), face_region(face), 2);
    for (Vec3& v : mesh.vertices) v = Vec3(v.z(), v.x(), v.y()) / 10;
    return write_mesh(mesh, MeshFormat::ply);
  }();
  return bytes;
}

}  // namespace

TEST_CASE("landmarks proposed on a scan come as a file to confirm, a picture and words") {
  const JobOutput out = run_job(ScanRequest{"a.ply"}, sample_disk({{"a.ply", scan_bytes()}}));
  INFO(out.complaint);
  REQUIRE(out.end == JobEnd::done);
  REQUIRE(out.files.size() == 2);
  CHECK(out.files[0].name == "landmarks.json");
  CHECK(out.files[1].name == "scan.png");
  CHECK(out.files[1].bytes.starts_with("\x89PNG"));
  CHECK_THAT(out.printed, Catch::Contains("taken to be cm") && Catch::Contains("pronasale: sure") &&
                              Catch::Contains("Confirm each") &&
                              Catch::Contains("Hair, a beard, a mask or a tube"));
  // A case refuses the file as it is, and takes it once somebody confirmed.
  const std::string file = out.files[0].bytes;
  nlohmann::json named = least_case();
  named["face"] = {{"scan", {{"file", "a.ply"}, {"landmarks", "landmarks.json"}}}};
  const auto checked = [&](const std::string& landmarks) {
    return run_job(
        CheckRequest{{"case.json", "landmarks.json"}},
        sample_disk(
            {{"a.ply", scan_bytes()}, {"landmarks.json", landmarks}, {"case.json", named.dump()}}));
  };
  const JobOutput before = checked(file);
  CHECK(before.end == JobEnd::input_at_fault);
  CHECK_THAT(before.printed,
             Catch::Contains("nobody has looked at them") && Catch::Contains("not confirmed yet"));
  LandmarkFile confirmed = read_landmark_file(file, "landmarks.json");
  confirmed.confirmed = true;
  const JobOutput after = checked(write_landmark_file(confirmed));
  INFO(after.printed);
  CHECK(after.end == JobEnd::done);
  CHECK_THAT(after.printed, Catch::Contains("sound, 11 landmarks of a scan\n"));
}

TEST_CASE("a scan that shows no face, a wrong unit and a file that is no scan are refused") {
  TriangleMesh plate;
  plate.vertices = {{0, 0, 0}, {200, 0, 0}, {0, 200, 0}};
  plate.triangles = {{0, 1, 2}};
  const ReadFile disk =
      sample_disk({{"a.ply", scan_bytes()}, {"plate.ply", write_mesh(plate, MeshFormat::ply)}});
  const JobOutput none = run_job(ScanRequest{"plate.ply"}, disk);
  CHECK(none.end == JobEnd::input_at_fault);
  CHECK(none.files.empty());
  CHECK_THAT(none.complaint, Catch::Contains("plate.ply: no face is found"));
  CHECK_THAT(run_job(ScanRequest{"a.ply", "feet"}, disk).complaint,
             Catch::Contains("valid: mm, cm, inch, m"));
  CHECK(run_job(ScanRequest{"a.ply", "m"}, disk).end == JobEnd::input_at_fault);
  CHECK_THAT(run_job(ScanRequest{"face.json"}, disk).complaint, Catch::Contains("face.json"));
}
