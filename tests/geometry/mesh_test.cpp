#include "geometry/mesh.hpp"

#include <map>

#include "catch.hpp"
#include "geometry/mesh_file.hpp"
#include "stored_face.hpp"
#include "units/error.hpp"

using namespace rimload;

namespace {
TriangleMesh face_mesh(double spacing_mm) {
  const FaceModel face = stored_face("reference");
  const SkinMap skin(face.landmarks);
  return make_mesh(skin, face_region(face.landmarks), spacing_mm);
}
std::size_t count(const std::string& text, const std::string& what) {
  std::size_t n = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++n;
  return n;
}
}  // namespace

TEST_CASE("a face mesh is one manifold disc with its triangles facing outwards") {
  const TriangleMesh mesh = face_mesh(4);
  std::map<std::pair<std::uint32_t, std::uint32_t>, int> directed;
  for (const auto& t : mesh.triangles) {
    for (std::size_t k = 0; k < 3; ++k) ++directed[{t[k], t[(k + 1) % 3]}];
    const Vec3& a = mesh.vertices[t[0]];
    const Vec3 normal = (mesh.vertices[t[1]] - a).cross(mesh.vertices[t[2]] - a);
    CHECK(normal.norm() > 1e-6);
    CHECK(normal.dot(Vec3(a.x(), 0, a.z() - SkinMap::axis_z_mm)) > 0);
  }
  std::size_t n_edges = 0;
  for (const auto& [edge, times] : directed) {
    CHECK(times == 1);
    const bool twice = directed.count({edge.second, edge.first}) > 0;
    if (!twice || edge.first < edge.second) ++n_edges;
  }
  // Euler: vertices - edges + triangles = 1 for a disc.
  CHECK(mesh.vertices.size() + mesh.triangles.size() == n_edges + 1);
}

TEST_CASE("the mesh of a symmetric face is its own mirror image") {
  const TriangleMesh mesh = face_mesh(5);
  double worst = 0;
  for (const Vec3& v : mesh.vertices) {
    double nearest = 1e9;
    for (const Vec3& w : mesh.vertices) {
      nearest = std::min(nearest, (v.cwiseProduct(Vec3(-1, 1, 1)) - w).norm());
    }
    worst = std::max(worst, nearest);
  }
  CHECK(worst < 1e-9);
}

TEST_CASE("the mesh of a face ends in front of the ears, at the hairline and under the chin") {
  const FaceModel face = stored_face("reference");
  const double behind = find_landmark(face.landmarks, "tragion", Side::left).position_face.z() - 4;
  const TriangleMesh mesh = face_mesh(1);
  double back = 0;
  double low = 0;
  double high = 0;
  for (const Vec3& v : mesh.vertices) {
    back = std::min(back, v.z());
    low = std::min(low, v.y());
    high = std::max(high, v.y());
  }
  CHECK(back > behind);
  CHECK(back < behind + 12);
  CHECK(high == Approx(60).margin(1e-9));
  CHECK(low == Approx(-125).margin(1e-9));
}

TEST_CASE("written files hold every vertex and triangle and say the unit where they can") {
  const TriangleMesh mesh = face_mesh(6);
  const std::string ply = write_mesh(mesh, MeshFormat::ply);
  CHECK(ply.find("element vertex " + std::to_string(mesh.vertices.size())) != std::string::npos);
  CHECK(ply.find("element face " + std::to_string(mesh.triangles.size())) != std::string::npos);
  CHECK(ply.find("Lengths in mm") < ply.find("end_header"));
  CHECK(ply.find("property") != std::string::npos);
  const std::string obj = write_mesh(mesh, MeshFormat::obj);
  CHECK(count(obj, "\nv ") == mesh.vertices.size());
  CHECK(count(obj, "\nf ") == mesh.triangles.size());
  CHECK(obj.find("Lengths in mm") != std::string::npos);
  // Binary STL: header of 80 bytes, a count of 4, 50 a triangle.
  const std::string stl = write_mesh(mesh, MeshFormat::stl);
  CHECK(stl.size() == 84 + 50 * mesh.triangles.size());
}

TEST_CASE("an OBJ file's coordinates are the mesh's to a micrometre") {
  const TriangleMesh mesh = face_mesh(6);
  std::istringstream in(write_mesh(mesh, MeshFormat::obj));
  std::size_t k = 0;
  for (std::string line; std::getline(in, line);) {
    if (line.rfind("v ", 0) != 0) continue;
    std::istringstream numbers(line.substr(2));
    Vec3 v;
    numbers >> v.x() >> v.y() >> v.z();
    REQUIRE(k < mesh.vertices.size());
    CHECK((v - mesh.vertices[k++]).norm() < 1e-3);
  }
  CHECK(k == mesh.vertices.size());
}

TEST_CASE("a mesh file's format is told by its ending") {
  CHECK(mesh_format_of("out/face.PLY") == MeshFormat::ply);
  CHECK(mesh_format_of("face.obj") == MeshFormat::obj);
  CHECK(mesh_format_of("a.b/face.stl") == MeshFormat::stl);
  CHECK_THROWS_AS(mesh_format_of("face.step"), InputError);
  CHECK_THROWS_AS(mesh_format_of("face"), InputError);
}
