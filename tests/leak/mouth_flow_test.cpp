#include "leak/mouth_flow.hpp"

#include <cmath>

#include "catch.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {
const Gas gas = humid_gas(0.21);
const double pressure = units::from_cmh2o(10);
}  // namespace

TEST_CASE("a closed mouth leaks nothing, and no pressure drives nothing") {
  CHECK(mouth_flow(mouth_path(MouthOpening::closed), pressure, gas) == 0);
  CHECK(mouth_flow(mouth_path(MouthOpening::mouth_breather), 0, gas) == 0);
}

TEST_CASE("without the nose an open mouth is an orifice: Q = Cd A sqrt(2 P/rho)") {
  // White 2011, section 6.12. 20 mm2, Cd 0.6, 10 cmH2O: 30.1 L/min by hand with rho 1.12 kg/m3.
  const MouthPath path{.resistance_n_s_mm5 = 0, .area_mm2 = 20, .discharge = 0.6};
  const double by_hand = 0.6 * 20 * std::sqrt(2 * pressure / gas.density);
  CHECK(mouth_flow(path, pressure, gas) == Approx(by_hand));
  CHECK(units::to_l_per_min(by_hand) == Approx(30.1).epsilon(0.01));
}

TEST_CASE("a wide open mouth is held back by the nose alone: Q = P/R") {
  const double resistance = units::from_cmh2o(3) / 1e6;  // 3 cmH2O for 1 L/s
  const MouthPath path{.resistance_n_s_mm5 = resistance, .area_mm2 = 1e6, .discharge = 0.6};
  CHECK(mouth_flow(path, pressure, gas) == Approx(pressure / resistance).epsilon(1e-6));
}

TEST_CASE("a wider mouth and a higher pressure leak more") {
  const MouthPath narrow = mouth_path(MouthOpening::open_at_rest);
  const MouthPath wide = mouth_path(MouthOpening::mouth_breather);
  CHECK(mouth_flow(narrow, pressure, gas) > 0);
  CHECK(mouth_flow(wide, pressure, gas) > mouth_flow(narrow, pressure, gas));
  CHECK(mouth_flow(wide, 2 * pressure, gas) > mouth_flow(wide, pressure, gas));
}
