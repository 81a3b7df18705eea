#include "leak/port_flow.hpp"

#include <numbers>

#include "catch.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {
const Gas gas = humid_gas(0.21);
const double pressure = units::from_cmh2o(10);
}  // namespace

TEST_CASE("a narrow slot around a tube passes what viscosity lets: Q = pi d c^3 P/(12 mu L)") {
  // White 2011, section 6.6, a slot rolled up; entry and exit take the rest at larger clearances.
  const PortSeal narrow{.clearance_mm = 0.01, .length_mm = 5};
  const double c = narrow.clearance_mm;
  const double by_hand = std::numbers::pi * 4 * c * c * c * pressure / (12 * gas.viscosity * 5);
  CHECK(port_flow(narrow, 4, pressure, gas) == Approx(by_hand).epsilon(0.005));
}

TEST_CASE("no tube, no pressure or a tight port: no leak; a larger tube leaks more") {
  CHECK(port_flow(port_seal(), 0, pressure, gas) == 0);
  CHECK(port_flow(port_seal(), 4, 0, gas) == 0);
  CHECK(port_flow({.clearance_mm = 0, .length_mm = 5}, 4, pressure, gas) == 0);
  CHECK(port_flow(port_seal(), 5, pressure, gas) > port_flow(port_seal(), 4, pressure, gas));
}
