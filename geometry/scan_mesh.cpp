#include "geometry/scan_mesh.hpp"

#include <CGAL/IO/OBJ.h>
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

#include "geometry/ply_header.hpp"
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

// CGAL's reader of OFF reserves what the file claims to hold; this one trusts nothing. After the
// coordinates of a vertex and the corners of a face a line may go on with normals or colours.
bool read_off(std::istream& in, Soup& soup) {
  std::string line;
  const auto next = [&] {
    while (std::getline(in, line)) {
      line = line.substr(0, line.find('#'));
      if (line.find_first_not_of(" \t\r") != std::string::npos) return true;
    }
    return false;
  };
  if (!next()) return false;
  std::istringstream head(line);
  std::string kind;
  head >> kind;
  if (kind != "OFF" && kind != "COFF" && kind != "NOFF" && kind != "CNOFF") return false;
  std::size_t n_points = 0;
  std::size_t n_polygons = 0;
  if (!(head >> n_points >> n_polygons)) {
    if (!next()) return false;
    std::istringstream counts(line);
    if (!(counts >> n_points >> n_polygons)) return false;
  }
  while (soup.points.size() < n_points && next()) {
    std::istringstream numbers(line);
    double x = 0;
    double y = 0;
    double z = 0;
    if (!(numbers >> x >> y >> z)) return false;
    soup.points.emplace_back(x, y, z);
  }
  while (soup.polygons.size() < n_polygons && next()) {
    std::istringstream numbers(line);
    std::size_t n = 0;
    numbers >> n;
    Polygon polygon;
    for (std::size_t corner = 0; polygon.size() < n && numbers >> corner;) {
      polygon.push_back(corner);
    }
    if (n == 0 || polygon.size() != n) return false;
    soup.polygons.push_back(std::move(polygon));
  }
  return soup.points.size() == n_points && soup.polygons.size() == n_polygons;
}

Soup read_soup(std::string_view bytes, const std::string& file) {
  const ScanFormat format = scan_format_of(file);
  std::istringstream in{std::string(bytes)};
  Soup soup;
  std::string why;
  // CGAL's reader of PLY crashes on some broken heads.
  if (format == ScanFormat::ply) why = ply_header_fault(bytes);
  bool read = false;
  try {
    switch (format) {
      case ScanFormat::obj: read = CGAL::IO::read_OBJ(in, soup.points, soup.polygons); break;
      case ScanFormat::ply:
        read = why.empty() && CGAL::IO::read_PLY(in, soup.points, soup.polygons);
        break;
      case ScanFormat::stl: read = CGAL::IO::read_STL(in, soup.points, soup.polygons); break;
      case ScanFormat::off: read = read_off(in, soup); break;
    }
  } catch (const std::exception& error) {
    why = error.what();
    read = false;
  }
  if (!read) {
    throw InputError(file, "",
                     "can't be read as a mesh of faces in the format its name ends in" +
                         (why.empty() ? "" : " (" + why + ")") +
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
