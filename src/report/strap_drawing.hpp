// Straps as soft bands that wrap the face.
#pragma once

#include "report/camera.hpp"
#include "report/raster.hpp"
#include "report/stroke.hpp"

namespace rimload {

/// A strap's band: rows of points across, from one edge to the other, along the course, lifted
/// above the skin where the straight band would cut into it [mm]. Past the strap's exit it goes on
/// round the head until the shown face ends.
using StrapBand = std::vector<std::vector<Vec3>>;
[[nodiscard]] StrapBand strap_band(const SceneStrap& strap, const SkinMap& skin);
/// The arm of the mask's frame that holds a strap, likewise; empty without one.
[[nodiscard]] StrapBand arm_band(const SceneStrap& strap, const SkinMap& skin);

struct BandInk {
  Rgb colour;
  double cover = 1;  ///< 0 invisible to 1 opaque
};

/// The side of all bands that faces the viewer, as one translucent layer; they fade where the
/// shown face does.
[[nodiscard]] RasterLayer band_layer(const std::vector<StrapBand>& bands, const BandInk& ink,
                                     const Camera& camera);
/// The outline of each band, open where it turns away from the viewer and where the shown face
/// ends.
[[nodiscard]] std::vector<StrokePath> band_edges(const std::vector<StrapBand>& bands,
                                                 const Camera& camera);

}  // namespace rimload
