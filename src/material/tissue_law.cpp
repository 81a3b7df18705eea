#include "material/tissue_law.hpp"

#include <cassert>
#include <cmath>

namespace rimload {

namespace {

constexpr double locking_strain = 0.95;

// g(e) = -ln(1 - e), with its first two derivatives.
struct Hardening {
  double value, slope, curvature;
};
Hardening hardening(double strain) {
  if (strain < locking_strain) {
    const double slope = 1 / (1 - strain);
    return {-std::log1p(-strain), slope, slope * slope};
  }
  constexpr double slope = 1 / (1 - locking_strain);
  return {-std::log1p(-locking_strain) + slope * (strain - locking_strain), slope, 0};
}

}  // namespace

ColumnPressure column_pressure(const TissueColumn& column, double blend_mm) {
  assert(blend_mm > 0 && column.depth_mm > 0);
  const double x = column.indentation_mm;
  if (x <= 0) return {};
  const bool blending = x < blend_mm;
  const double d = blending ? x * x / (2 * blend_mm) : x - blend_mm / 2;
  const double d_slope = blending ? x / blend_mm : 1;
  const double h = column.depth_mm;
  const double m = column.modulus_n_mm2;
  const double c = column.compliance_mm3_n;

  // Share d between the strain e of the tissue and the backing: e + a g(e) = d/h. The left side is
  // increasing and convex, and g(e) >= e + e^2/2 puts the root of that quadratic beyond the root
  // sought: from there Halley's method takes two steps as a rule, four at most.
  const double a = c * m / h;
  const double linear = 1 + a;
  double strain = 2 * d / (h * (linear + std::sqrt(linear * linear + 2 * a * d / h)));
  Hardening g = hardening(strain);
  for (int step = 0; step < 60; ++step) {
    const double excess = strain + a * g.value - d / h;
    const double slope = 1 + a * g.slope;
    const double move = excess * slope / (slope * slope - 0.5 * excess * a * g.curvature);
    strain -= move;
    if (std::abs(move) < 1e-6) {  // the error left is its cube; Taylor's series will do
      g.value -= (g.slope - 0.5 * g.curvature * move) * move;
      g.slope -= g.curvature * move;
      break;
    }
    g = hardening(strain);
  }
  const double stiffness = m * g.slope / h;
  const double share = 1 / (1 + c * stiffness);
  ColumnPressure out;
  out.pressure = m * g.value;
  out.by_indentation = stiffness * share * d_slope;
  out.by_depth = -stiffness * share * strain;
  out.by_modulus = g.value * share;
  out.by_compliance = -stiffness * share * out.pressure;
  return out;
}

Switch smooth_switch(double x) {
  if (x <= 0) return {0, 0};
  if (x >= 1) return {1, 0};
  return {x * x * (3 - 2 * x), 6 * x * (1 - x)};
}

}  // namespace rimload
