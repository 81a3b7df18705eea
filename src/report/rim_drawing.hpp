// The cushion's rim and its gaps as lines and a glassy band.
#pragma once

#include <vector>

#include "report/camera.hpp"
#include "report/raster.hpp"
#include "report/stroke.hpp"

namespace rimload {

/// A run of neighbouring stations where gas can pass.
struct GapRun {
  std::size_t first = 0;  ///< station; the run may pass the last station and go on at 0
  std::size_t n_stations = 0;
  double gap_mm = 0;  ///< the largest in the run
};

/// The runs of open stations, in the order of the rim; runs that fewer than `bridge` closed
/// stations part count as one.
[[nodiscard]] std::vector<GapRun> gap_runs(const std::vector<SceneStation>& stations,
                                           std::size_t bridge = 3);

/// The moulded rim as a translucent band from the lip's inner edge over the rim to its outer edge:
/// faint where it faces the viewer, so that the colours beneath keep their meaning.
[[nodiscard]] RasterLayer rim_layer(const Scene& scene, const Camera& camera);

/// The lip's inner and outer edge, half a cell beyond the outermost samples and not below the
/// skin; both closed.
[[nodiscard]] std::vector<StrokePath> lip_edges(const Scene& scene, const Camera& camera);
/// The line of the moulded rim, closed.
[[nodiscard]] StrokePath rim_line(const Scene& scene, const Camera& camera);
/// Closed outlines of the gaps across the lip's full width.
[[nodiscard]] std::vector<StrokePath> gap_outlines(const Scene& scene, const Camera& camera);

}  // namespace rimload
