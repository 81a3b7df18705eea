#include "geometry/ply_header.hpp"

#include "catch.hpp"
#include "geometry/mesh_file.hpp"

using namespace rimload;

namespace {

const std::string& sound() {
  static const std::string head =
      "ply\nformat ascii 1.0\ncomment made by hand\nelement vertex 3\nproperty float x\n"
      "property float y\nproperty float z\nproperty uchar red\nelement face 1\n"
      "property list uchar int vertex_indices\nend_header\n0 0 0 9\n1 0 0 9\n0 1 0 9\n3 0 1 2\n";
  return head;
}

std::string with(const std::string& from, const std::string& to) {
  std::string out = sound();
  out.replace(out.find(from), from.size(), to);
  return out;
}

}  // namespace

TEST_CASE("the heads of sound PLY files pass, ours and with lines ended as elsewhere") {
  CHECK(ply_header_fault(sound()) == "");
  CHECK(ply_header_fault(with("vertex_indices", "vertex_index")) == "");
  std::string other;
  for (const char c : sound()) other += c == '\n' ? std::string("\r\n") : std::string(1, c);
  CHECK(ply_header_fault(other) == "");
  TriangleMesh one;
  one.vertices = {Vec3(0, 0, 0), Vec3(1, 0, 0), Vec3(0, 1, 0)};
  one.triangles = {{0, 1, 2}};
  CHECK(ply_header_fault(write_mesh(one, MeshFormat::ply)) == "");
}

TEST_CASE("each way of breaking the head of a PLY file is found") {
  CHECK(ply_header_fault("") == "its head does not end");
  CHECK(ply_header_fault(with("ply\n", "plyy\n")) == "line 1 of its head is not one of a mesh");
  CHECK_THAT(ply_header_fault(with("ascii 1.0", "ascii 2.0")), Catch::StartsWith("line 2"));
  CHECK_THAT(ply_header_fault(with("format ascii 1.0\n", "")), Catch::StartsWith("line 3"));
  CHECK_THAT(ply_header_fault(with("element vertex 3\n", "")), Catch::StartsWith("line 4"));
  // More vertices than the file has bytes; a negative number of them.
  CHECK_THAT(ply_header_fault(with("vertex 3", "vertex 3000")), Catch::StartsWith("line 4"));
  CHECK_THAT(ply_header_fault(with("vertex 3", "vertex -3")), Catch::StartsWith("line 4"));
  CHECK_THAT(ply_header_fault(with("float x", "half x")), Catch::StartsWith("line 5"));
  CHECK_THAT(ply_header_fault(with("float y", "float x")), Catch::StartsWith("line 6"));
  CHECK_THAT(ply_header_fault(with("uchar int", "int int")), Catch::StartsWith("line 10"));
  CHECK(ply_header_fault(with("float z", "float w")) == "has no vertex/z");
  CHECK_THAT(ply_header_fault(with("vertex_indices", "corners")), Catch::Contains("no faces"));
  CHECK(ply_header_fault(with("end_header\n", "end_header")) != "");
}
