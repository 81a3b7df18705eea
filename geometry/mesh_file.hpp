// Writes a triangle mesh in an open format.
#pragma once

#include <string>
#include <string_view>

#include "geometry/mesh.hpp"

namespace rimload {

enum class MeshFormat {
  ply,  ///< Polygon File Format, binary, with outward vertex normals
  obj,  ///< Wavefront object, text
  stl   ///< stereolithography, binary; vertices are not shared
};

/// The format that a file's name ends in: `.ply`, `.obj` or `.stl`, in any case.
/// @throws InputError when it ends in none of them
[[nodiscard]] MeshFormat mesh_format_of(std::string_view file_name);

/// The bytes of the file. Coordinates are millimetres in the facial frame; a comment says so where
/// the format has comments (PLY, OBJ).
[[nodiscard]] std::string write_mesh(const TriangleMesh& mesh, MeshFormat format);

}  // namespace rimload
