#include "geometry/scan_mesh.hpp"

#include <CGAL/IO/OBJ.h>
#include <CGAL/IO/OFF.h>
#include <CGAL/IO/PLY.h>
#include <CGAL/IO/STL.h>
#include <CGAL/Polygon_mesh_processing/orient_polygon_soup.h>
#include <CGAL/Polygon_mesh_processing/repair_polygon_soup.h>
#include <CGAL/Simple_cartesian.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <numeric>
#include <sstream>
#include <utility>

#include "units/error.hpp"

namespace rimload {

namespace {

namespace processing = CGAL::Polygon_mesh_processing;
using Kernel = CGAL::Simple_cartesian<double>;
using Point = Kernel::Point_3;
using Polygon = std::vector<std::size_t>;

constexpr std::array<std::pair<std::string_view, ScanFormat>, 4> endings{
    {{".obj", ScanFormat::obj},
     {".ply", ScanFormat::ply},
     {".stl", ScanFormat::stl},
     {".off", ScanFormat::off}}};

struct Soup {
  std::vector<Point> points;
  std::vector<Polygon> polygons;
};

// CGAL's reader of PLY prints what it makes of a broken header: it gets whole ones only.
bool ply_header(std::string_view bytes) {
  return bytes.rfind("ply", 0) == 0 && bytes.find("format ") != std::string_view::npos &&
         bytes.find("end_header") != std::string_view::npos;
}

Soup read_soup(std::string_view bytes, const std::string& file) {
  const ScanFormat format = scan_format_of(file);
  std::istringstream in{std::string(bytes)};
  Soup soup;
  bool read = false;
  std::string why;
  // The readers throw on some broken files (a count beyond all memory) and return false on others.
  try {
    switch (format) {
      case ScanFormat::obj: read = CGAL::IO::read_OBJ(in, soup.points, soup.polygons); break;
      case ScanFormat::ply:
        read = ply_header(bytes) && CGAL::IO::read_PLY(in, soup.points, soup.polygons);
        break;
      case ScanFormat::stl: read = CGAL::IO::read_STL(in, soup.points, soup.polygons); break;
      case ScanFormat::off: read = CGAL::IO::read_OFF(in, soup.points, soup.polygons); break;
    }
  } catch (const std::exception& error) {
    why = std::string(" (") + error.what() + ")";
    read = false;
  }
  if (!read) {
    throw InputError(file, "",
                     "can't be read as a mesh of faces in the format its name ends in" + why +
                         "; is the file complete, and the ending right?");
  }
  return soup;
}

void check(const Soup& soup, const std::string& file) {
  for (std::size_t k = 0; k < soup.points.size(); ++k) {
    const Point& p = soup.points[k];
    if (!std::isfinite(p.x()) || !std::isfinite(p.y()) || !std::isfinite(p.z())) {
      throw InputError(file, "", "vertex " + std::to_string(k + 1) + " has no finite coordinates");
    }
  }
  for (const Polygon& polygon : soup.polygons) {
    for (const std::size_t corner : polygon) {
      if (corner >= soup.points.size()) {
        throw InputError(file, "",
                         "a face names vertex " + std::to_string(corner + 1) + " of " +
                             std::to_string(soup.points.size()));
      }
    }
  }
}

TriangleMesh triangles_of(const Soup& soup) {
  TriangleMesh mesh;
  for (const Point& p : soup.points) mesh.vertices.emplace_back(p.x(), p.y(), p.z());
  const auto index = [](std::size_t k) { return static_cast<std::uint32_t>(k); };
  for (const Polygon& polygon : soup.polygons) {
    for (std::size_t k = 2; k < polygon.size(); ++k) {
      mesh.triangles.push_back({index(polygon[0]), index(polygon[k - 1]), index(polygon[k])});
    }
  }
  return mesh;
}

double area(const TriangleMesh& mesh, const std::array<std::uint32_t, 3>& t) {
  const Vec3& a = mesh.vertices[t[0]];
  return 0.5 * (mesh.vertices[t[1]] - a).cross(mesh.vertices[t[2]] - a).norm();
}

// For each vertex one vertex of its piece, the same for all of them.
std::vector<std::uint32_t> pieces_of(const TriangleMesh& mesh) {
  std::vector<std::uint32_t> parent(mesh.vertices.size());
  std::iota(parent.begin(), parent.end(), 0U);
  const auto root = [&](std::uint32_t k) {
    while (parent[k] != k) k = parent[k] = parent[parent[k]];
    return k;
  };
  for (const auto& t : mesh.triangles) {
    parent[root(t[1])] = root(t[0]);
    parent[root(t[2])] = root(t[0]);
  }
  for (std::uint32_t k = 0; k < parent.size(); ++k) parent[k] = root(k);
  return parent;
}

ScanMesh largest_piece(const TriangleMesh& mesh, const std::string& file) {
  const std::vector<std::uint32_t> piece = pieces_of(mesh);
  std::vector<double> areas(mesh.vertices.size(), 0.0);
  for (const auto& t : mesh.triangles) areas[piece[t[0]]] += area(mesh, t);
  const double whole = std::accumulate(areas.begin(), areas.end(), 0.0);
  if (!(whole > 0)) throw InputError(file, "", "holds no triangle with an area");
  const auto largest =
      static_cast<std::uint32_t>(std::max_element(areas.begin(), areas.end()) - areas.begin());
  ScanMesh out;
  out.n_pieces = static_cast<std::size_t>(
      std::count_if(areas.begin(), areas.end(), [](double a) { return a > 0; }));
  out.dropped_share = out.n_pieces == 1 ? 0 : 1 - areas[largest] / whole;
  std::vector<std::uint32_t> kept(mesh.vertices.size(), 0);
  for (std::size_t k = 0; k < mesh.vertices.size(); ++k) {
    if (piece[k] != largest) continue;
    kept[k] = static_cast<std::uint32_t>(out.mesh.vertices.size());
    out.mesh.vertices.push_back(mesh.vertices[k]);
  }
  for (const auto& t : mesh.triangles) {
    if (piece[t[0]] == largest && area(mesh, t) > 0) {
      out.mesh.triangles.push_back({kept[t[0]], kept[t[1]], kept[t[2]]});
    }
  }
  return out;
}

}  // namespace

ScanFormat scan_format_of(std::string_view file_name) {
  std::string ending(file_name.substr(std::min(file_name.size(), file_name.rfind('.'))));
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  for (const auto& [name, format] : endings) {
    if (ending == name) return format;
  }
  throw InputError(
      std::string(file_name), "",
      "a scan is read as .obj, .ply, .stl or .off, and the name ends in '" + ending + "'");
}

ScanMesh read_scan(std::string_view bytes, const std::string& file) {
  Soup soup = read_soup(bytes, file);
  check(soup, file);
  processing::repair_polygon_soup(soup.points, soup.polygons);
  processing::orient_polygon_soup(soup.points, soup.polygons);
  return largest_piece(triangles_of(soup), file);
}

}  // namespace rimload
