#include "leak/slot_flow.hpp"

#include <array>
#include <cmath>

#include "catch.hpp"

using namespace rimload;

namespace {

// Handbook values in SI, and the same gas inside.
constexpr double density_si = 1.12;       // kg/m3
constexpr double viscosity_si = 1.88e-5;  // Pa s
constexpr Gas gas{.density = 1.12e-12, .viscosity = 1.88e-11};
constexpr double loss = 1.5;
constexpr double ten_cmh2o_pa = 980.665;
constexpr double n_mm2_per_pa = 1e-6;
constexpr double mm2_per_m2 = 1e6;

double one_slot(double gap_mm, double length_mm, double pressure_pa) {
  const std::array parts{SlotPart{gap_mm, length_mm}};
  return slot_flow(parts, pressure_pa * n_mm2_per_pa, gas, loss);
}

}  // namespace

TEST_CASE("A long thin slot passes the flow between parallel plates") {
  // Q/b = 2 h^3 dp/(3 mu L), h half the gap [White 2011, section 6.6, flow between parallel
  // plates].
  const double half_m = 0.5 * 0.02e-3;
  const double expected =
      2 * std::pow(half_m, 3) * ten_cmh2o_pa / (3 * viscosity_si * 10e-3) * mm2_per_m2;
  // The inertial part is a few parts in 1e5 here.
  CHECK(one_slot(0.02, 10, ten_cmh2o_pa) == Approx(expected).epsilon(2e-4));
  CHECK(one_slot(0.005, 10, ten_cmh2o_pa) ==
        Approx(expected / 64).epsilon(1e-5));  // the cube of the gap
}

TEST_CASE("A short wide slot passes the flow of an orifice") {
  // V = sqrt(2 dp/(K rho)) from h_loss = K V^2/(2 g) [White 2011, section 6.9, minor losses].
  const double speed_m_s = std::sqrt(2 * ten_cmh2o_pa / (loss * density_si));
  const double expected = 2e-3 * speed_m_s * mm2_per_m2;
  CHECK(one_slot(2, 1e-6, ten_cmh2o_pa) == Approx(expected).epsilon(1e-6));
  // Without losses nothing but viscosity holds the gas back.
  const std::array parts{SlotPart{2, 5}};
  const double viscous = 8e-9 * ten_cmh2o_pa / (12 * viscosity_si * 5e-3) * mm2_per_m2;
  CHECK(slot_flow(parts, ten_cmh2o_pa * n_mm2_per_pa, gas, 0) == Approx(viscous).epsilon(1e-12));
}

TEST_CASE("Between the limits the two pressure drops add up to the whole") {
  for (const double gap_mm : {0.05, 0.1, 0.2, 0.5, 1.0}) {
    const double q = one_slot(gap_mm, 9, ten_cmh2o_pa) / mm2_per_m2;
    const double gap_m = gap_mm * 1e-3;
    const double viscous = 12 * viscosity_si * 9e-3 * q / std::pow(gap_m, 3);
    const double inertial = loss * density_si * q * q / (2 * gap_m * gap_m);
    CAPTURE(gap_mm);
    CHECK(viscous + inertial == Approx(ten_cmh2o_pa).epsilon(1e-12));
    CHECK(viscous > 0);
    CHECK(inertial > 0);
  }
}

TEST_CASE("Parts in series add their resistances, and the narrowest takes the entry loss") {
  const double p = 1 * n_mm2_per_pa;  // so slow that viscosity decides
  const std::array first{SlotPart{0.02, 4}};
  const std::array second{SlotPart{0.03, 5}};
  const std::array both{SlotPart{0.02, 4}, SlotPart{0.03, 5}};
  const double resistance = p / slot_flow(first, p, gas, 0) + p / slot_flow(second, p, gas, 0);
  CHECK(slot_flow(both, p, gas, 0) == Approx(p / resistance).epsilon(1e-12));
  const std::array orifices{SlotPart{1, 1e-9}, SlotPart{3, 1e-9}};
  const std::array narrow{SlotPart{1, 1e-9}};
  CHECK(slot_flow(orifices, 1e-3, gas, loss) ==
        Approx(slot_flow(narrow, 1e-3, gas, loss)).epsilon(1e-9));
}

TEST_CASE("Nothing passes a closed part or without pressure") {
  const std::array closed{SlotPart{1, 3}, SlotPart{0, 0.1}, SlotPart{1, 3}};
  CHECK(slot_flow(closed, 1e-3, gas, loss) == 0);
  CHECK(one_slot(1, 5, 0) == 0);
  CHECK(slot_flow({}, 1e-3, gas, loss) == 0);
}

TEST_CASE("Slot flow rises with pressure and gap and falls with length") {
  for (const double gap_mm : {0.01, 0.1, 1.0}) {
    for (const double length_mm : {1.0, 10.0}) {
      for (const double pressure_pa : {100.0, 1000.0}) {
        CAPTURE(gap_mm, length_mm, pressure_pa);
        const double q = one_slot(gap_mm, length_mm, pressure_pa);
        CHECK(one_slot(gap_mm, length_mm, 1.01 * pressure_pa) > q);
        CHECK(one_slot(1.01 * gap_mm, length_mm, pressure_pa) > q);
        CHECK(one_slot(gap_mm, 1.01 * length_mm, pressure_pa) < q);
      }
    }
  }
}

TEST_CASE("Breathing gas has the density of an ideal mixture of dry gas and vapour") {
  // rho = (p - e)/(Rd T) + e/(Rv T), with handbook gas constants in J/(kg K); e at 34 degrees C.
  const double t = 307.15;
  const double e = 5320;
  const double vapour = e / (461.52 * t);
  const double air = (101325 - e) / (287.05 * t) + vapour;
  const double oxygen = (101325 - e) / (259.84 * t) + vapour;
  // Air's argon is counted as nitrogen, which is 0.4 % too light.
  CHECK(humid_gas(0.21).density * 1e12 == Approx(air).epsilon(5e-3));
  CHECK(humid_gas(1.0).density * 1e12 == Approx(oxygen).epsilon(2e-4));
  CHECK(humid_gas(0.21).density * 1e12 < (101325 / (287.05 * t)));  // vapour is light
}

TEST_CASE("Breathing gas has the viscosity of air or oxygen at its ends") {
  // Sutherland's law [White 2011, equation 1.27, constants from memory], 1 % for the constants.
  const auto sutherland = [](double at_0, double s) {
    const double ratio = 307.15 / 273.15;
    return at_0 * std::pow(ratio, 1.5) * (273.15 + s) / (307.15 + s);
  };
  CHECK(humid_gas(0.21).viscosity * 1e6 == Approx(sutherland(1.716e-5, 110.4)).epsilon(0.01));
  CHECK(humid_gas(1.0).viscosity * 1e6 == Approx(sutherland(1.919e-5, 139)).epsilon(0.01));
  CHECK(humid_gas(0.6).viscosity > humid_gas(0.3).viscosity);
}
