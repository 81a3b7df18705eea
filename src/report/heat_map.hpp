// A page that shows how a mask presses one face from one side.
#pragma once

#include "report/figure.hpp"
#include "report/legend.hpp"

namespace rimload {

struct HeatMapOptions {
  int width_px = 1400;  ///< 700 or more; all text grows with it, and is at least 9 pt when the
                        ///< picture is printed 190 mm wide (A4)
};

/// Where everything on the page lies; no pixels yet.
struct HeatMapLayout {
  int width_px = 0;
  int height_px = 0;  ///< as much as title, face, legend and caution need
  double unit_px = 1;
  Box view_sign;       ///< the dark field with the view's name
  double rule_px = 0;  ///< y of the line above the cautions, 0 without any
  Figure figure;
  Legend legend;
  std::vector<TextItem> texts;  ///< title, subtitle, view, cautions
};

[[nodiscard]] HeatMapLayout layout_heat_map(const Scene& scene, View view,
                                            HeatMapOptions options = {});

/// Shaded face, rim, straps, pressure on the skin, gaps, dressing places, labels, legend, scale
/// bar, title and caution. The same scene gives the same pixels.
/// @pre width_px >= 700, scale_max_mmhg > 0
[[nodiscard]] Image draw_heat_map(const Scene& scene, View view, HeatMapOptions options = {});

}  // namespace rimload
