#include "case/scanned_face.hpp"

#include <cmath>

#include "case/sample_files.hpp"
#include "catch.hpp"
#include "geometry/mesh_file.hpp"
#include "geometry/skin_map.hpp"

using namespace rimload;

namespace {

const std::vector<Landmark>& reference() {
  static const std::vector<Landmark> landmarks = face_model_named("reference")->landmarks;
  return landmarks;
}

// The reference face as a device in centimetres has it, z upwards and x forwards.
Vec3 in_scan(const Vec3& x_face) { return Vec3(x_face.z(), x_face.x(), x_face.y()) / 10; }

TriangleMesh scan() {
  TriangleMesh mesh = make_mesh(SkinMap(reference()), face_region(reference()), 2);
  for (Vec3& v : mesh.vertices) v = in_scan(v);
  return mesh;
}

nlohmann::json scanned_case() {
  nlohmann::json out = least_case();
  nlohmann::json marks = nlohmann::json::array();
  for (const auto& [name, side] : {std::pair{"sellion", Side::midline},
                                   {"subnasale", Side::midline},
                                   {"exocanthion", Side::left},
                                   {"exocanthion", Side::right},
                                   {"cheilion", Side::left}}) {
    const Vec3 at = in_scan(find_landmark(reference(), name, side).position_face);
    marks.push_back(
        {{"name", name}, {"side", name_of(side)}, {"at_scan_units", {at.x(), at.y(), at.z()}}});
  }
  out["face"] = {{"scan", {{"file", "scans/a.ply"}, {"landmarks", marks}}}};
  return out;
}

const std::string& scan_bytes() {
  static const std::string bytes = write_mesh(scan(), MeshFormat::ply);
  return bytes;
}

Case read(const nlohmann::json& document, const std::string& bytes = scan_bytes()) {
  return read_case(document.dump(), "case.json", sample_disk({{"scans/a.ply", bytes}}));
}

std::vector<Fault> scan_faults(const nlohmann::json& document,
                               const std::string& bytes = scan_bytes()) {
  return faults_of([&] { static_cast<void>(read(document, bytes)); });
}

}  // namespace

TEST_CASE("a case that names a scan has the face that the scan shows") {
  const Case in = read(scanned_case());
  CHECK(in.face.name == "scan");
  CHECK_FALSE(in.face.symmetric);
  REQUIRE_FALSE(in.scan_remarks.empty());
  REQUIRE(in.scan_residual_mm);
  CHECK(*in.scan_residual_mm > 0);
  CHECK(*in.scan_residual_mm < 0.5);  // the README's limit for scans of our own faces
  CHECK(in.scan_remarks.front().find("unit is taken to be cm") != std::string::npos);
  REQUIRE(in.face.landmarks.size() == reference().size());
  const SkinMap skin(in.face.landmarks);
  double sum = 0;
  for (const Landmark& landmark : reference()) {
    sum += std::pow(skin.closest(landmark.position_face).distance, 2);
  }
  // Facets of 2 mm, and a frame laid by landmarks that each lie within half a millimetre.
  CHECK(std::sqrt(sum / static_cast<double>(reference().size())) < 0.3);
  CHECK_THAT(in.face.provenance, Catch::Contains("taken to be cm") && Catch::Contains("not bone"));
}

TEST_CASE("what is wrong with a scan or its marks is named at its place") {
  nlohmann::json wrong_unit = scanned_case();
  wrong_unit["face"]["scan"]["unit"] = "mm";
  auto faults = scan_faults(wrong_unit);
  INFO(listed(faults));
  CHECK(names(faults, "/face/scan/unit", "in cm it is"));
  CHECK(faults.front().file == "case.json");

  nlohmann::json unknown = scanned_case();
  unknown["face"]["scan"]["landmarks"][0]["name"] = "selion";
  CHECK(names(scan_faults(unknown), "/face/scan/landmarks", "selion"));

  nlohmann::json few = scanned_case();
  few["face"]["scan"]["landmarks"].erase(0);
  few["face"]["scan"]["landmarks"].erase(0);
  CHECK_FALSE(scan_faults(few).empty());

  const auto broken = scan_faults(scanned_case(), scan_bytes().substr(0, 2000));
  REQUIRE(broken.size() == 1);
  CHECK(broken.front().file == "scans/a.ply");
}

TEST_CASE("a scan without skin where rims go is refused") {
  TriangleMesh mesh = scan();
  // Nothing between the bridge of the nose and the chin, to 35 mm on the left.
  std::erase_if(mesh.triangles, [&](const auto& t) {
    const Vec3& v = mesh.vertices[t[0]];
    return v.y() > 0 && v.y() < 3.5 && v.z() < -0.5 && v.z() > -11;
  });
  const auto faults = scan_faults(scanned_case(), write_mesh(mesh, MeshFormat::ply));
  INFO(listed(faults));
  CHECK(names(faults, "/face/scan", "is too much to fill"));
}

TEST_CASE("a case may name a file of landmarks, JSON or CSV, and has the same face") {
  const nlohmann::json inline_case = scanned_case();
  const nlohmann::json marks = inline_case["face"]["scan"]["landmarks"];
  std::string table = "name,side,x,y,z\n";
  for (const auto& mark : marks) {
    const auto& at = mark["at_scan_units"];
    table += mark["name"].get<std::string>() + "," + mark["side"].get<std::string>() + "," +
             at[0].dump() + "," + at[1].dump() + "," + at[2].dump() + "\n";
  }
  const nlohmann::json file = {{"rimload_landmarks", 1}, {"landmarks", marks}};
  const Case in = read(inline_case);
  for (const auto& [name, text] : {std::pair{"marks.json", file.dump()}, {"marks.csv", table}}) {
    INFO(name);
    nlohmann::json named = inline_case;
    named["face"]["scan"]["landmarks"] = name;
    const Case other = read_case(named.dump(), "case.json",
                                 sample_disk({{"scans/a.ply", scan_bytes()}, {name, text}}));
    REQUIRE(other.face.landmarks.size() == in.face.landmarks.size());
    for (std::size_t k = 0; k < in.face.landmarks.size(); ++k) {
      CHECK(other.face.landmarks[k].position_face == in.face.landmarks[k].position_face);
    }
  }
}

TEST_CASE("proposed landmarks that nobody confirmed are refused, and so is a file not there") {
  nlohmann::json named = scanned_case();
  const nlohmann::json file = {{"rimload_landmarks", 1},
                               {"confirmed", false},
                               {"landmarks", named["face"]["scan"]["landmarks"]}};
  named["face"]["scan"]["landmarks"] = "marks.json";
  const auto faults = faults_of([&] {
    (void)read_case(named.dump(), "case.json",
                    sample_disk({{"scans/a.ply", scan_bytes()}, {"marks.json", file.dump()}}));
  });
  INFO(listed(faults));
  REQUIRE(names(faults, "/confirmed", "nobody has looked at them"));
  CHECK(faults.front().file == "marks.json");
  CHECK(names(scan_faults(named), "/face/scan/landmarks", "'marks.json': there is no such file"));
}
