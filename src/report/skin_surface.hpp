// The shaded skin.
#pragma once

#include "report/camera.hpp"
#include "report/raster.hpp"

namespace rimload {

/// The skin as seen by a camera, lit softly from above and in front, the same on both sides.
///
/// Colour is that of pale warm clay, standing for no one's skin; hollows are darkened a little
/// (skin radius against its mean over a few millimetres), which makes eyes, nose and lips
/// legible. The chart coordinates go along as u, v [mm].
/// @param chin_end_mm height of menton; of a chin higher than an adult's, what lies below it fades
[[nodiscard]] RasterLayer skin_layer(const SkinMap& skin, const Camera& camera, double chin_end_mm);

/// How much of the face is shown at chart coordinates: 1 inside, fading to 0 over the last
/// millimetres before the map ends behind the ears, above the forehead and below the chin.
[[nodiscard]] double shown_share(const Vec2& uv);

}  // namespace rimload
