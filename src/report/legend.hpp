// What colours and lines of a picture mean.
#pragma once

#include <string>
#include <vector>

#include "report/colour_scale.hpp"
#include "report/scene.hpp"
#include "report/text_item.hpp"

namespace rimload {

/// A mark across the colour bar.
struct LegendTick {
  double x_px = 0;
  bool above = false;  ///< kPa stands above the bar, mmHg below
};

enum class Sign { scale_bar, rim, strap, gap, dressing, injury, beard, tube, jet };

/// A sign and its place; its words are among the legend's texts.
struct LegendSign {
  Sign sign = Sign::rim;
  Box box;
};

/// Where everything of the legend lies.
struct Legend {
  Box bar;  ///< of the scale; a tip to its right stands for all beyond
  std::vector<LegendTick> ticks;
  std::vector<LegendSign> signs;
  std::vector<TextItem> texts;
  double bottom_px = 0;
};

/// Lays the legend out from the top of a box: colour bar with mmHg and kPa at the left, and what
/// the numbers beside the face are, signs at
/// the right (only of what the scene has), and a remark when nothing touches or the scale is
/// exceeded.
/// @param px_per_mm of the face that it belongs to, for the scale bar of 20 mm
[[nodiscard]] Legend layout_legend(const Scene& scene, const Box& box, double px_per_mm,
                                   double unit_px);

void draw_legend(Image& image, const Legend& legend, const ColourScale& scale, double unit_px);

/// Round numbers from 0 up to at most `end`, about `n` of them, apart by 1, 2 or 5 times a power
/// of ten.
[[nodiscard]] std::vector<double> round_ticks(double end, int n);

}  // namespace rimload
