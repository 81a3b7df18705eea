// A thin tube under the lip: how the lip tents over it, and what passes beside it.
#pragma once

#include "leak/slot_flow.hpp"

namespace rimload {

/// A tube that crosses under the lip, and the lip there.
struct TubeUnderLip {
  double diameter_mm = 0;       ///< French size over 3
  double bending = 0;           ///< of the lip along the rim, EI [N mm2]
  double tension = 0;           ///< of the lip along the rim, N [N]
  double foundation = 0;        ///< k, lip and tissue in series, per rim length [N/mm2], above 0
  double skin_stiffness = 0;    ///< force per tube length and depth sunk [N/mm2], above 0
  double line_load = 0;         ///< q0, the lip's own load before the tube, without gas [N/mm]
  double gas_share = 0;         ///< phi, of the gas pressure that backs the lip
  double contact_width_mm = 0;  ///< across the lip: the channel's length, above 0
};

/// The lip at rest over the tube, and the gas that passes.
struct TubeChannel {
  double stand_off_mm = 0;      ///< H, the tube's height above the skin beside it
  double span_mm = 0;           ///< from the tube's axis to where the lip lands
  double channel_area_mm2 = 0;  ///< both sides together
  double tube_load = 0;         ///< of the lip on the tube [N]
  double skin_pressure = 0;     ///< load over the tube's diameter times the contact width [N/mm2]
  double flow = 0;              ///< both sides together [mm3/s]
};

/// Shape, load and leak of a lip over a tube.
///
/// The lip lies round the top of the tube as far as it must, for it may bend no more sharply than
/// the tube, and is free from there to its landing. Its height w above the skin obeys
/// EI w'''' - N w'' + k w = -q, q = q0 + phi P width, and ends in w = w' = w'' = 0: it may press
/// the skin but not pull it. The load on the tube (2 EI w''' where the lip touches its top only,
/// else shear, tension's pull and what rests on the arc) sinks it by load/(skin_stiffness width),
/// and H = diameter - sunk depth. A side channel is the area under w less half of the tube's
/// section above the skin.
///
/// Limits on a fine tube without q, of the area under w on one side and of the load:
/// N only, H sqrt(N/k) and 2 sqrt(N k) H, a string on an elastic bed; EI only, H (4EI/k)^(1/4) and
/// 8 EI (k/4EI)^(3/4) H [Hetenyi 1946, chapter 2], times coth(pi/2) and coth(pi), since this lip
/// lands where an infinite beam would pull; N > 2 sqrt(EI k), load 2 sqrt(k (N + 2 sqrt(EI k))) H.
/// N and q only: an arc of radius N/q between the tangents to tube and skin.
///
/// A larger tube leaks more, unless a limp lip holds it more than half sunk. So does a higher
/// pressure, unless a gas-backed lip closes faster than the gas gains: phi near 1, or a stiff lip
/// that sinks most of the tube. Slopes count as small; gas in the channel lifts nothing (most of
/// its pressure is lost at the entry); the skin beside the tube keeps its height.
/// Not calibrated: soft lips give several times the leak that was measured [Quintero 2020].
/// @param pressure [N/mm2], 0 or more
/// @return all 0 when the tube has no diameter
[[nodiscard]] TubeChannel tube_channel(const TubeUnderLip& tube, double pressure, const Gas& gas);

/// A straight duct of constant section.
struct Duct {
  double area_mm2 = 0;
  double perimeter_mm = 0;
  double length_mm = 0;
};

/// Flow through a duct whose section is nearly a triangle [mm3/s]:
/// P = 2 (f Re) mu length v/D^2 + zeta rho v^2/2, D = 4 area/perimeter, Fanning's f Re = 13.33,
/// that of the equilateral triangle; 12 to 13.3 for others [Shah and London 1978, from memory].
/// Laminar: beyond a Reynolds number of about 2300 entry and exit losses decide in short ducts.
/// @param pressure [N/mm2], 0 or more; @param loss zeta
/// @return 0 without area
[[nodiscard]] double duct_flow(const Duct& duct, double pressure, const Gas& gas, double loss);

}  // namespace rimload
