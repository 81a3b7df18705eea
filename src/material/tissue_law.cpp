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

// s(q) = 1 - exp(-q), the strain at q = p/M, with its slope; the inverse of `hardening`.
struct Strain {
  double value, slope;
};
Strain strain_at(double q) {
  static const double locking_q = -std::log1p(-locking_strain);
  if (q < locking_q) return {-std::expm1(-q), std::exp(-q)};
  constexpr double slope = 1 - locking_strain;
  return {locking_strain + slope * (q - locking_q), slope};
}

// A layer does not lock: however soft, it is never pressed through.
Strain layer_strain_at(double q) { return {-std::expm1(-q), std::exp(-q)}; }

// With a layer on top the pressure is the unknown: h s(p/M) + c p + t s(p c_l/t) = d. The left side
// is increasing and concave, so Newton's method climbs to the root from below, where the linear law
// puts it.
ColumnPressure layered_pressure(const TissueColumn& column, double d, double d_slope) {
  const double h = column.depth_mm;
  const double m = column.modulus_n_mm2;
  const double by_layer_pressure = column.layer_compliance_mm3_n / column.layer_mm;
  double p = d / (h / m + column.compliance_mm3_n + column.layer_compliance_mm3_n);
  Strain tissue{}, layer{};
  double softness = 0;  // of all in series, by pressure [mm3/N]
  for (int step = 0; step < 60; ++step) {
    tissue = strain_at(p / m);
    layer = layer_strain_at(p * by_layer_pressure);
    softness = h / m * tissue.slope + column.compliance_mm3_n +
               column.layer_compliance_mm3_n * layer.slope;
    const double move =
        (d - h * tissue.value - column.compliance_mm3_n * p - column.layer_mm * layer.value) /
        softness;
    p += move;
    if (std::abs(move) <= 1e-14 * p) break;
  }
  ColumnPressure out;
  out.pressure = p;
  out.by_indentation = d_slope / softness;
  out.by_depth = -tissue.value / softness;
  out.by_modulus = h / m * tissue.slope * (p / m) / softness;
  out.by_compliance = -p / softness;
  out.by_layer = -(layer.value - p * by_layer_pressure * layer.slope) / softness;
  out.by_layer_compliance = -p * layer.slope / softness;
  return out;
}

}  // namespace

ColumnPressure column_pressure(const TissueColumn& column, double blend_mm) {
  assert(blend_mm > 0 && column.depth_mm > 0);
  const double x = column.indentation_mm;
  if (x <= 0) return {};
  const bool blending = x < blend_mm;
  const double d = blending ? x * x / (2 * blend_mm) : x - blend_mm / 2;
  const double d_slope = blending ? x / blend_mm : 1;
  if (column.layer_mm > 0) return layered_pressure(column, d, d_slope);
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
