#include "material/tissue_law.hpp"

#include <cassert>
#include <cmath>

namespace rimload {

namespace {

constexpr double locking_strain = 0.95;

struct Hardening {
  double value, slope;
};
Hardening hardening(double strain) {
  if (strain < locking_strain) return {-std::log1p(-strain), 1 / (1 - strain)};
  constexpr double slope = 1 / (1 - locking_strain);
  return {-std::log1p(-locking_strain) + slope * (strain - locking_strain), slope};
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

  // Share d between tissue (t) and backing: t + c m g(t/h) = d. The left side is increasing and
  // convex, and g(e) >= e + e^2/2 puts the root of that quadratic beyond the root sought: from
  // there Newton's method comes down on it without overshoot.
  const double linear = 1 + c * m / h;
  double tissue = 2 * d / (linear + std::sqrt(linear * linear + 2 * c * m * d / (h * h)));
  Hardening g = hardening(tissue / h);
  if (c > 0) {
    for (int step = 0; step < 60; ++step) {
      const double move = (tissue + c * m * g.value - d) / (1 + c * m * g.slope / h);
      tissue -= move;
      g = hardening(tissue / h);
      if (std::abs(move) < 1e-9 * h) break;  // the next error is its square
    }
  }
  const double stiffness = m * g.slope / h;
  const double share = 1 / (1 + c * stiffness);
  ColumnPressure out;
  out.pressure = m * g.value;
  out.by_indentation = stiffness * share * d_slope;
  out.by_depth = -stiffness * share * tissue / h;
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
