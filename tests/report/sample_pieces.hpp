// Pieces to print, without a fit.
#pragma once

#include <cmath>
#include <vector>

#include "dressing/template.hpp"

namespace rimload::sample {

/// A rectangle with sharp corners, so that its size on the page is easy to find.
inline TemplatePiece piece(const SidedSite& site, double width_mm, double height_mm) {
  TemplatePiece out;
  out.site = site;
  const Vec2 half(0.5 * width_mm, 0.5 * height_mm);
  out.outline = {-half, {half.x(), -half.y()}, half, {-half.x(), half.y()}};
  out.stretch = {.stretch = 0.034, .shortening = 0.011};
  return out;
}

/// One with a slit, one with a dart, one that doesn't lie flat.
inline std::vector<TemplatePiece> pieces() {
  TemplatePiece bridge = piece({Site::nasal_bridge, Side::midline}, 36, 20);
  bridge.midline = {{0, 5}, {0, 0}, {0, -10}};
  bridge.cuts.push_back({.left = {{0, 10}, {0, 5}},
                         .right = {{0, 10}, {0, 5}},
                         .length_mm = 5,
                         .wedge_mm = 0,
                         .gap_mm = 2.1,
                         .under_rim = false});
  TemplatePiece chin = piece({Site::chin, Side::midline}, 60, 22);
  chin.cuts.push_back({.left = {{-2, -11}, {0, -2}},
                       .right = {{2, -11}, {0, -2}},
                       .length_mm = 9.2,
                       .wedge_mm = 4,
                       .gap_mm = 0,
                       .under_rim = true});
  TemplatePiece cheek = piece({Site::cheek, Side::left}, 20, 45);
  cheek.stretch.stretch = 0.083;
  cheek.lies_flat = false;
  return {bridge, chin, cheek};
}

}  // namespace rimload::sample
