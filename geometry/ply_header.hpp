// The head of a PLY file, checked before a reader that trusts it.
#pragma once

#include <string>
#include <string_view>

namespace rimload {

/// What is wrong with the head of a PLY file of a mesh, in words; empty when nothing is.
///
/// Right is: `ply`, `format ascii|binary_little_endian|binary_big_endian 1.0`, then elements with
/// properties of the known types, among them `vertex` with numbers x, y, z and `face` with a list
/// `vertex_indices` or `vertex_index`, counted by a byte; `end_header`. No element has more entries
/// than the file has bytes.
[[nodiscard]] std::string ply_header_fault(std::string_view bytes);

}  // namespace rimload
