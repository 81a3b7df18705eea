// One view of the face with labels to both sides: the part of a page that other pages can reuse.
#pragma once

#include <vector>

#include "report/camera.hpp"
#include "report/colour_scale.hpp"
#include "report/label_layout.hpp"
#include "report/raster.hpp"
#include "report/text_item.hpp"

namespace rimload {

/// A label with its leader line.
struct FigureLabel {
  std::vector<TextItem> lines;
  Box box;  ///< around all lines
  Vec2 leader_start = Vec2::Zero();
  Vec2 anchor = Vec2::Zero();
};

/// Where everything of one view lies; no pixels yet.
struct Figure {
  Camera camera;
  PixelRect face;                   ///< where the face is drawn
  std::vector<TextItem> marks;      ///< wearer's right and left, or front and back
  std::vector<FigureLabel> labels;  ///< sites, gaps and dressing places seen from here
  std::vector<TextItem> remarks;    ///< labels left out for want of room, if any
};

struct FigureOptions {
  double unit_px = 1;               ///< all sizes are multiples of it; 1 on a page 1400 px wide
  std::size_t most_gap_labels = 4;  ///< the longest gaps only; all are hatched
};

/// Lays a view out in a box: columns of labels 255 units wide at both sides, the face between
/// them at the same scale in every view.
///
/// Only what is seen from the view gets a label. Injured skin comes first, then jets and sites, in
/// the scene's order, then gaps (largest first), then dressing places.
[[nodiscard]] Figure layout_figure(const Scene& scene, View view, const Box& box,
                                   FigureOptions options);

/// Height that a figure needs at a unit [px].
[[nodiscard]] double figure_height(double unit_px);

void draw_figure(Image& image, const Figure& figure, const Scene& scene, const ColourScale& scale,
                 double unit_px);

}  // namespace rimload
