// The stiffness of a bonded layer in closed form, under a strip of pressure and under a punch.
#pragma once

namespace rimload {

/// M_eff/E under uniform pressure on a long strip, in closed form:
///
/// 1/m = (1 - nu^2)(v/pi) ln(1 + (1.694/v)^2) + (E/Mc) v^1.173/(v^1.173 + 2.28), v = w/h,
/// Mc/E = (1 - nu)/((1 + nu)(1 - 2 nu)).
///
/// The first part is the half-plane under a narrow strip, the second the confined layer under a
/// wide one; three numbers are fitted. Within 1.2 % of `layer_modulus` for v from 1/8 to 16 and nu
/// from 0.40 to 0.49. The engine uses the exact integral; this is for reckoning by hand.
[[nodiscard]] double strip_modulus_estimate(double width_over_depth, double poisson);

/// M_eff/E under a rigid punch without friction, mean pressure over depression, in closed form:
/// that of the strip times
/// 1 + 0.114/((2/v)^0.4 + (v/2)^4.6) + 0.0104 v exp(-24 (1 - 2 nu)).
///
/// A punch is stiffer than a strip: its pressure gathers at the edges on deep tissue, and in the
/// middle on tissue that is thin and keeps its volume. Fitted to finite elements
/// (`data/column-modulus.json`), within 3 % of them in the same range.
[[nodiscard]] double punch_modulus_estimate(double width_over_depth, double poisson);

}  // namespace rimload
