#include "geometry/scan_mesh.hpp"

#include <algorithm>
#include <array>
#include <random>

#include "catch.hpp"
#include "geometry/mesh_file.hpp"
#include "geometry/scan_tree.hpp"
#include "scanned_face.hpp"
#include "stored_face.hpp"
#include "units/error.hpp"

using namespace rimload;

namespace {

TriangleMesh face_mesh() {
  const FaceModel face = stored_face("reference");
  return make_mesh(SkinMap(face.landmarks), face_region(face.landmarks), 4);
}

double area(const TriangleMesh& mesh) {
  double sum = 0;
  for (const auto& t : mesh.triangles) {
    const Vec3& a = mesh.vertices[t[0]];
    sum += 0.5 * (mesh.vertices[t[1]] - a).cross(mesh.vertices[t[2]] - a).norm();
  }
  return sum;
}

std::string fault_of(std::string_view bytes, const std::string& file) {
  try {
    static_cast<void>(read_scan(bytes, file));
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

// A pyramid of four triangles, as text.
constexpr const char* pyramid_off =
    "OFF\n4 4 0\n0 0 0\n10 0 0\n0 10 0\n0 0 10\n3 0 2 1\n3 0 1 3\n3 0 3 2\n3 1 2 3\n";

}  // namespace

TEST_CASE("what is written as PLY, OBJ or STL is read again with its area and triangles") {
  const TriangleMesh mesh = face_mesh();
  for (const auto& [format, name] : {std::pair{MeshFormat::ply, "face.PLY"},
                                     {MeshFormat::obj, "face.obj"},
                                     {MeshFormat::stl, "face.stl"}}) {
    const ScanMesh scan = read_scan(write_mesh(mesh, format), name);
    INFO(name);
    CHECK(scan.mesh.triangles.size() == mesh.triangles.size());
    CHECK(scan.mesh.vertices.size() == mesh.vertices.size());
    CHECK(scan.n_pieces == 1);
    CHECK(scan.dropped_share == 0);
    // STL holds single-precision numbers: 1e-7 of 150 mm over a triangle of 4 mm.
    CHECK(area(scan.mesh) == Approx(area(mesh)).epsilon(1e-5));
  }
}

TEST_CASE("OFF is read, and a face of four corners becomes two triangles") {
  CHECK(read_scan(pyramid_off, "pyramid.off").mesh.triangles.size() == 4);
  const char* square = "OFF\n4 1 0\n0 0 0\n1 0 0\n1 1 0\n0 1 0\n4 0 1 2 3\n";
  const ScanMesh scan = read_scan(square, "square.off");
  CHECK(scan.mesh.triangles.size() == 2);
  CHECK(area(scan.mesh) == Approx(1));
}

TEST_CASE("an OBJ file with texture and normals, groups and materials is read") {
  const char* text =
      "# a comment\nmtllib a.mtl\no thing\nv 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\nvt 0 0\nvt 1 0\n"
      "vn 0 0 1\ng part\nusemtl skin\ns 1\nf 1/1/1 2/2/1 3/1/1\nf 1//1 3//1 4//1\n";
  const ScanMesh scan = read_scan(text, "square.obj");
  CHECK(scan.mesh.triangles.size() == 2);
  CHECK(scan.n_pieces == 1);
}

TEST_CASE("loose pieces are dropped and their share of the area is said") {
  std::string text = "OFF\n7 5 0\n0 0 0\n10 0 0\n0 10 0\n0 0 10\n50 0 0\n52 0 0\n50 2 0\n";
  text += "3 0 2 1\n3 0 1 3\n3 0 3 2\n3 1 2 3\n3 4 5 6\n";
  const ScanMesh scan = read_scan(text, "two.off");
  CHECK(scan.n_pieces == 2);
  CHECK(scan.mesh.triangles.size() == 4);
  CHECK(scan.mesh.vertices.size() == 4);
  // Three right triangles of 50 and one of 50 sqrt(3), against one of 2.
  CHECK(scan.dropped_share == Approx(2 / (152 + 50 * std::sqrt(3.0))));
}

TEST_CASE("triangles wound at odds with their neighbours are turned") {
  TriangleMesh mesh = face_mesh();
  for (std::size_t k = 0; k < mesh.triangles.size(); k += 3) {
    std::swap(mesh.triangles[k][1], mesh.triangles[k][2]);
  }
  // STL keeps no shared vertices, so any winding can be written.
  const ScanMesh scan = read_scan(write_mesh(mesh, MeshFormat::stl), "mixed.stl");
  std::size_t outwards = 0;
  for (const auto& t : scan.mesh.triangles) {
    const Vec3& a = scan.mesh.vertices[t[0]];
    const Vec3 normal = (scan.mesh.vertices[t[1]] - a).cross(scan.mesh.vertices[t[2]] - a);
    if (normal.dot(Vec3(a.x(), 0, a.z() - SkinMap::axis_z_mm)) > 0) ++outwards;
  }
  CHECK((outwards == 0 || outwards == scan.mesh.triangles.size()));
}

TEST_CASE("a file that is no scan is refused by name with what is wrong") {
  CHECK_THAT(fault_of("v 1 2 3\n", "face.step"),
             Catch::Contains("face.step") && Catch::Contains(".obj, .ply, .stl or .off"));
  CHECK_THAT(fault_of("not a mesh", "face.ply"), Catch::Contains("face.ply"));
  CHECK_THAT(fault_of("", "face.off"), Catch::Contains("face.off"));
  CHECK_THAT(fault_of("v 0 0 0\nv 1 0 0\nv 2 0 0\nf 1 2 3\n", "line.obj"),
             Catch::Contains("line.obj") && Catch::Contains("no triangle with an area"));
  CHECK_THAT(fault_of("v 0 0 0\nv 1 0 0\nv 0 1 0\n", "points.obj"), Catch::Contains("faces"));
  const std::string whole = write_mesh(face_mesh(), MeshFormat::ply);
  CHECK_THAT(fault_of(whole.substr(0, whole.size() / 2), "half.ply"), Catch::Contains("half.ply"));
  CHECK_THAT(fault_of("OFF\n3 1 0\n0 0 0\n1 0 0\n0 1 0\n3 0 1 7\n", "far.off"),
             Catch::Contains("far.off"));
}

TEST_CASE("a line meets a pyramid where geometry says") {
  // Base z = 0, slanted face x + y + z = 10; the line (2, 3, t): t = 0 and t = 5.
  const ScanMesh scan = read_scan(pyramid_off, "pyramid.off");
  const ScanTree tree(scan.mesh);
  std::vector<LineHit> hits = tree.hits({2, 3, 1}, Vec3::UnitZ(), 100);
  REQUIRE(hits.size() == 2);
  if (hits[0].along > hits[1].along) std::swap(hits[0], hits[1]);
  CHECK(hits[0].along == Approx(-1));
  CHECK(hits[1].along == Approx(4));
  // Normals point out of the pyramid, or all of them into it.
  CHECK(hits[0].normal.z() * hits[1].normal.z() < 0);
  CHECK(std::abs(hits[1].normal.z()) == Approx(1 / std::sqrt(3.0)));
  CHECK(tree.hits({2, 3, 1}, Vec3::UnitZ(), 2).size() == 1);
  CHECK(tree.hits({20, 3, 1}, Vec3::UnitZ(), 100).empty());
}

TEST_CASE("a file broken anywhere is read or refused, never worse") {
  const TriangleMesh mesh = make_mesh(SkinMap(stored_face("reference").landmarks),
                                      face_region(stored_face("reference").landmarks), 25);
  const std::array files{std::pair{write_mesh(mesh, MeshFormat::ply), "a.ply"},
                         std::pair{write_mesh(mesh, MeshFormat::obj), "a.obj"},
                         std::pair{write_mesh(mesh, MeshFormat::stl), "a.stl"},
                         std::pair{std::string(pyramid_off), "a.off"}};
  std::mt19937 random(3);
  int n_read = 0;
  int n_refused = 0;
  for (int k = 0; k < 600; ++k) {
    auto [bytes, name] = files[random() % files.size()];
    // Half of the faults are in the head, where a reader is told what is to come.
    const std::size_t at =
        random() % (random() % 2 == 0 ? bytes.size() : std::min<std::size_t>(bytes.size(), 300));
    switch (random() % 4) {
      case 0: bytes[at] = static_cast<char>(random()); break;
      case 1: bytes.resize(at + 1); break;
      case 2: bytes.insert(at, std::string(1 + random() % 6, '7')); break;
      default: bytes.erase(at, 1 + random() % 5);
    }
    try {
      if (!read_scan(bytes, name).mesh.triangles.empty()) ++n_read;
    } catch (const InputError&) {
      ++n_refused;
    }
  }
  CHECK(n_read + n_refused == 600);
  CHECK(n_read > 50);
  CHECK(n_refused > 50);
}
