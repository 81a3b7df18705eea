#include "geometry/mesh_file.hpp"

#include <CGAL/IO/OBJ.h>
#include <CGAL/IO/PLY.h>
#include <CGAL/IO/STL.h>
#include <CGAL/Simple_cartesian.h>
#include <CGAL/Surface_mesh.h>

#include <algorithm>
#include <cctype>
#include <sstream>

#include "units/error.hpp"

namespace rimload {

namespace {

using Kernel = CGAL::Simple_cartesian<double>;
using SurfaceMesh = CGAL::Surface_mesh<Kernel::Point_3>;

SurfaceMesh surface_mesh(const TriangleMesh& mesh) {
  SurfaceMesh result;
  for (const Vec3& v : mesh.vertices) result.add_vertex({v.x(), v.y(), v.z()});
  const auto vertex = [](std::uint32_t k) { return SurfaceMesh::Vertex_index(k); };
  for (const auto& t : mesh.triangles) result.add_face(vertex(t[0]), vertex(t[1]), vertex(t[2]));
  return result;
}

constexpr const char* about =
    "Lengths in mm. Facial frame: origin at sellion, x to the wearer's left, y up, z forward.";

}  // namespace

MeshFormat mesh_format_of(std::string_view file_name) {
  std::string ending(file_name.substr(std::min(file_name.size(), file_name.rfind('.'))));
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  if (ending == ".ply") return MeshFormat::ply;
  if (ending == ".obj") return MeshFormat::obj;
  if (ending == ".stl") return MeshFormat::stl;
  throw InputError(
      std::string(file_name), "",
      "a mesh is written as .ply, .obj or .stl, and the name ends in '" + ending + "'");
}

std::string write_mesh(const TriangleMesh& mesh, MeshFormat format) {
  SurfaceMesh surface = surface_mesh(mesh);
  std::ostringstream out;
  out.precision(9);
  bool written = false;
  switch (format) {
    case MeshFormat::ply: {
      const std::vector<Vec3> normals = vertex_normals(mesh);
      auto property =
          surface.add_property_map<SurfaceMesh::Vertex_index, Kernel::Vector_3>("v:normal").first;
      for (const auto vertex : surface.vertices()) {
        const Vec3& n = normals[vertex.idx()];
        property[vertex] = {n.x(), n.y(), n.z()};
      }
      CGAL::IO::set_binary_mode(out);
      written = CGAL::IO::write_PLY(out, surface, about);
      break;
    }
    case MeshFormat::obj:
      out << "# " << about << "\n";
      written = CGAL::IO::write_OBJ(out, surface, CGAL::parameters::stream_precision(9));
      break;
    case MeshFormat::stl:
      CGAL::IO::set_binary_mode(out);
      written = CGAL::IO::write_STL(out, surface);
      break;
  }
  if (!written) throw InternalError("the mesh could not be written");
  return std::move(out).str();
}

}  // namespace rimload
