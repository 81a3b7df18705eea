// Straps as soft bands that wrap the face.
#pragma once

#include "report/camera.hpp"
#include "report/raster.hpp"
#include "report/stroke.hpp"

namespace rimload {

/// A strap's band: rows of points across, from one edge to the other, along the course, lifted
/// above the skin where the straight band would cut into it [mm].
using StrapBand = std::vector<std::vector<Vec3>>;
[[nodiscard]] StrapBand strap_band(const SceneStrap& strap, const SkinMap& skin);

/// All bands as one translucent layer; they fade where the shown face does.
[[nodiscard]] RasterLayer strap_layer(const std::vector<StrapBand>& bands, const Camera& camera);
/// The two edges of each band, as far as the face is shown.
[[nodiscard]] std::vector<StrokePath> strap_edges(const std::vector<StrapBand>& bands,
                                                  const Camera& camera);

}  // namespace rimload
