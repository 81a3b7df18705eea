// Conversions against the definitions of the units.
#include "units/units.hpp"
#include "catch.hpp"

using namespace rimload::units;

// One rounding in each of at most three operations: a few units in the last place.
const auto same = [](double value) { return Approx(value).epsilon(1e-14); };

TEST_CASE("a kilopascal is a thousandth of a newton per square millimetre") {
  CHECK(from_kpa(1) == 1e-3);
  CHECK(to_kpa(0.25) == same(250));
}

TEST_CASE("a millimetre of mercury is 101325/760 pascal") {
  // By definition of the torr; the conventional mmHg differs in the seventh digit, the constant
  // is rounded to six: 3e-6 covers it.
  CHECK(from_mmhg(760) == Approx(101325e-6).epsilon(3e-6));
}

TEST_CASE("a centimetre of water is the weight of a gram on a square centimetre") {
  // 1 g under standard gravity 9.80665 m/s2 on 100 mm2.
  CHECK(from_cmh2o(1) == same(1e-3 * 9.80665 / 100));
}

TEST_CASE("a litre a minute is a million cubic millimetres in sixty seconds") {
  CHECK(from_l_per_min(60) == same(1e6));
}

TEST_CASE("going to a unit and back gives the value again") {
  for (const double value : {-3.0, 0.0, 1e-6, 7.3, 400.0}) {
    CAPTURE(value);
    CHECK(to_kpa(from_kpa(value)) == same(value));
    CHECK(to_mmhg(from_mmhg(value)) == same(value));
    CHECK(to_cmh2o(from_cmh2o(value)) == same(value));
    CHECK(to_l_per_min(from_l_per_min(value)) == same(value));
  }
}
