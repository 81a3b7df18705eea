// The face with everything that lies on it, drawn into part of a picture.
#pragma once

#include "report/camera.hpp"
#include "report/colour_scale.hpp"
#include "report/raster.hpp"
#include "report/scene.hpp"

namespace rimload {

/// Draws skin, pressure, gaps, rim, straps and dressing outlines, without any text.
///
/// Colours of pressure are shaded only slightly, so that they can be compared with the scale; they
/// fade in over the first few mmHg. Where gas can pass, stripes of ink and white take their place.
/// @return the depth, for lines that are to be hidden behind the face
/// @pre the area lies in the picture
DepthMap draw_face(Image& image, PixelRect area, const Scene& scene, const Camera& camera,
                   const ColourScale& scale);

/// The stripes that mark a gap, at a pixel: 0 white to 1 ink, for stripes of one width [px].
[[nodiscard]] float gap_stripe(double x, double y, double stripe_px);

}  // namespace rimload
