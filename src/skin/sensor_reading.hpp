// What a sensor taped to the skin would read.
#pragma once

#include <span>

#include "contact/equilibrium.hpp"

namespace rimload {

/// Force inside a disc 11.3 mm across, centred on a point of the skin, over 100 mm2 [N/mm2]; bare
/// area counts as zero. A sample at the disc's border counts in part, by a ramp as wide as its
/// cell.
/// @param centre_face on the skin, facial frame [mm]
[[nodiscard]] double sensor_reading(std::span<const ContactSample> samples,
                                    const Vec3& centre_face);

}  // namespace rimload
