// How stiff a bonded elastic layer is under a strip of pressure.
#pragma once

#include <vector>

namespace rimload {

/// M_eff/E of a layer of thickness h bonded to a rigid base, under uniform pressure p on a long
/// strip of width w: p h / (E mean displacement under the strip), plane strain.
///
/// The surface moves by 2 (1 - nu^2)/(E k) K(k h) cos kx under the pressure cos kx, with
/// K(s) = (2 c sinh 2s - 4 s)/(2 c cosh 2s + 4 s^2 + 1 + c^2), c = 3 - 4 nu
/// [Johnson 1985, section 5.8; the transform of a bonded layer]; the strip is the Fourier integral
/// of such waves. Ends: half-plane for narrow strips, (1 - nu)/((1 + nu)(1 - 2 nu)) for wide ones.
/// @pre 0 < width_over_depth, 0 <= poisson < 0.5
[[nodiscard]] double layer_modulus(double width_over_depth, double poisson);

/// The same, tabulated once for one Poisson's ratio: smooth, cheap, within 0.1 %.
class LayerModulus {
 public:
  /// @pre 0 <= poisson <= 0.495
  explicit LayerModulus(double poisson);

  struct Value {
    double ratio = 0;         ///< M_eff / E
    double by_log_width = 0;  ///< derivative by ln(width over depth)
  };
  /// Outside 1/64 to 64 the value at the end is used.
  [[nodiscard]] Value at(double width_over_depth) const;
  [[nodiscard]] double poisson() const { return poisson_; }

 private:
  double poisson_;
  std::vector<double> coefficients_;  ///< cubic B-spline in ln(width over depth)
};

}  // namespace rimload
