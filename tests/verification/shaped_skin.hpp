// Skins of simple shape on uniform tissue, for which the literature has closed forms.
#pragma once

#include "contact/mask_on_face.hpp"

namespace rimload {

/// How far in front of the map's axis the skin of these shapes is on the midline [mm].
inline constexpr double shape_front_mm = 80;
/// z of that point, facial frame [mm].
inline constexpr double shape_front_z_mm = SkinMap::axis_z_mm + shape_front_mm;

/// The plane z = `shape_front_z_mm`, out to 60 mm of arc: 1e-6 mm flat within 40 mm.
[[nodiscard]] SkinMap flat_skin();
/// A sphere through the same point, bulging forwards; its radius above 80 mm.
[[nodiscard]] SkinMap spherical_skin(double radius_mm);

/// A flat round rim in the plane z = 0 of the mask: apex at the origin, centre at (0, -radius, 0).
[[nodiscard]] Rim ring(double radius_mm, RimSection section);

/// A rim that touches nothing, for a mask of which only the pad counts.
[[nodiscard]] SampledRim far_rim();

}  // namespace rimload
