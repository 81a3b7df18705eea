// Reads a scan of a face: a triangle mesh from somebody's device, with what is wrong with it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/mesh.hpp"

namespace rimload {

enum class ScanFormat { obj, ply, stl, off };

/// The format that a file's name ends in: `.obj`, `.ply`, `.stl` or `.off`, in any case.
/// @throws InputError when it ends in none of them
[[nodiscard]] ScanFormat scan_format_of(std::string_view file_name);

/// The largest connected piece of a scan. Its triangles are wound alike, though perhaps all of them
/// inside out: which side is outside, only the face tells.
struct ScanMesh {
  TriangleMesh mesh;         ///< in the file's own unit and frame, not the facial frame
  std::size_t n_pieces = 1;  ///< connected pieces in the file
  double dropped_share = 0;  ///< of the file's area that lay in other pieces, 0 to 1
};

/// Reads a scan as a soup of polygons: points in one place become one, faces of more than three
/// corners are cut from their first, those without area are left out.
/// @param bytes the whole file; @param file its name, for its ending and for messages
/// @throws InputError when the file can't be read as its ending says, a coordinate is not finite or
///   no triangle is left
[[nodiscard]] ScanMesh read_scan(std::string_view bytes, const std::string& file);

}  // namespace rimload
