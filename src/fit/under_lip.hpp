// What a case puts between lip and skin, and what that does.
#pragma once

#include "fit/estimate.hpp"

namespace rimload {

/// Beard and tube of a case at a balance.
[[nodiscard]] UnderLip under_lip(const Case& input, const FaceInUse& face, const Mask& mask,
                                 const PhaseState& state, const Gas& gas);

/// Through an open mouth under a nasal mask [mm3/s]; other masks hold the mouth inside.
[[nodiscard]] double mouth_leak(const Case& input, double gas_pressure, const Gas& gas);

/// Around a tube that goes through the cushion's port [mm3/s].
[[nodiscard]] double port_leak(const Case& input, double gas_pressure, const Gas& gas);

/// Skin beneath a tube as a site: its load over 1 cm2 as a sensor reads, and over its own width as
/// peak and mean.
[[nodiscard]] SitePressure site_of_tube(const TubeCrossing& tube, Side side);

}  // namespace rimload
