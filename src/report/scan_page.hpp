// A page on which the landmarks proposed on a scan are looked at before use.
#pragma once

#include <string>

#include "geometry/scan_proposal.hpp"
#include "report/image.hpp"

namespace rimload {

/// A page 1400 px wide: the scan itself from the front and from the wearer's left, each proposed
/// landmark with its number where it lies, then name, confidence and reason. Confidence shows in
/// shape and colour: a disc is sure, a diamond is to be looked at closely, a ring was not found
/// and is where the face would have it.
/// @param scan in its own unit and frame
[[nodiscard]] Image draw_scan_page(const TriangleMesh& scan, const ScanProposal& proposal);

/// The same list in words, what it rests on first.
[[nodiscard]] std::string scan_words(const ScanMesh& scan, const ScanProposal& proposal);

}  // namespace rimload
