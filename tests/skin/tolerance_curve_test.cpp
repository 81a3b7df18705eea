#include "skin/tolerance_curve.hpp"

#include <cmath>

#include "catch.hpp"
#include "skin/tolerance_questions.hpp"
#include "units/units.hpp"

using namespace rimload;
using units::from_kpa;
using units::from_mmhg;

namespace {

// Of closed forms in doubles.
constexpr double rounding = 1e-12;

// Linder-Ganz 2006 as it is printed, in kPa and minutes (from memory).
double muscle_bears_kpa(double minutes) { return 23 / (1 + std::exp(0.15 * (minutes - 95))) + 9; }

}  // namespace

TEST_CASE("The pressure-time product gives 300 mmHg h over the pressure") {
  // Reswick and Rogers 1976, from memory: points on the hyperbola.
  struct Row {
    double mmhg, hours;
  };
  for (const Row& row : {Row{40, 7.5}, Row{60, 5}, Row{100, 3}, Row{150, 2}, Row{240, 1.25}}) {
    CAPTURE(row.mmhg);
    const HoursLimit hours = pressure_time_hours(from_mmhg(row.mmhg), from_mmhg(300));
    REQUIRE(hours);
    CHECK(*hours == Approx(row.hours).epsilon(rounding));
  }
}

TEST_CASE("The pressure-time product says nothing of long times and too little of short ones") {
  const double product = from_mmhg(300);
  CHECK_FALSE(pressure_time_hours(0, product));
  CHECK_FALSE(pressure_time_hours(from_mmhg(29.99), product));
  CHECK(pressure_time_hours(from_mmhg(30.01), product).value_or(0) == Approx(10).epsilon(1e-3));
  CHECK(pressure_time_hours(from_mmhg(299.9), product).value_or(0) == Approx(1).epsilon(1e-3));
  CHECK(pressure_time_hours(from_mmhg(300.1), product) == 0.0);
  CHECK(pressure_time_hours(1, product) == 0.0);
}

TEST_CASE("Pressure and shear meet both points at which blood flow was seen to stop") {
  // Goossens 1994: 11.6 kPa alone, 8.7 kPa with 3.1 kPa of shear; 87 and 65 mmHg.
  for (const auto& [pressure, shear] : {std::pair{11.6, 0.0}, std::pair{8.7, 3.1}}) {
    CAPTURE(pressure);
    const Ranged equal = pressure_with_shear(from_kpa(pressure), from_kpa(shear));
    CHECK(units::to_kpa(equal.low) == Approx(11.6).epsilon(rounding));
    CHECK(units::to_kpa(equal.typical) == Approx(11.6).epsilon(rounding));
    CHECK(units::to_kpa(equal.high) == Approx(11.6).epsilon(rounding));
  }
  const BloodFlowLaw& law = tolerance_laws().blood_flow;
  // Published in whole mmHg.
  CHECK(std::abs(units::to_mmhg(law.stops_at.typical) - 87) < 0.5);
  CHECK(std::abs(units::to_mmhg(law.stops_at_with_shear) - 65) < 0.5);
}

TEST_CASE("R5: shear of about a third of the pressure lowers the tolerated pressure by a quarter") {
  // By construction; the band 0.65 to 0.85 is the target's. Pressure p with shear r p counts as
  // p times a factor, so the tolerated pressure is lower by that factor, whatever the curve.
  for (const double ratio : {0.30, 1.0 / 3, 0.36}) {
    for (const double mmhg : {10.0, 65.0, 300.0}) {
      CAPTURE(ratio, mmhg);
      const double pressure = from_mmhg(mmhg);
      const Ranged equal = pressure_with_shear(pressure, ratio * pressure);
      for (const double end : {equal.low, equal.typical, equal.high}) {
        CHECK(pressure / end >= 0.65);
        CHECK(pressure / end <= 0.85);
      }
    }
  }
}

TEST_CASE("Without shear pressure counts as it is, and each of the two only adds") {
  Ranged before_p;
  for (double mmhg = 0; mmhg <= 300; mmhg += 12.5) {
    const Ranged bare = pressure_with_shear(from_mmhg(mmhg), 0);
    CHECK(bare.low == Approx(from_mmhg(mmhg)).epsilon(rounding));
    CHECK(bare.high == Approx(from_mmhg(mmhg)).epsilon(rounding));
    Ranged before_t = bare;
    for (double shear = 2.5; shear <= 200; shear += 2.5) {
      const Ranged here = pressure_with_shear(from_mmhg(mmhg), from_mmhg(shear));
      REQUIRE(here.low <= here.typical);
      REQUIRE(here.typical <= here.high);
      REQUIRE(here.low > before_t.low);
      REQUIRE(here.typical > before_t.typical);
      REQUIRE(here.high > before_t.high);
      before_t = here;
    }
    if (mmhg > 0) {
      // The end of each row of shears, against that of the pressure before.
      REQUIRE(before_t.low > before_p.low);
      REQUIRE(before_t.typical > before_p.typical);
      REQUIRE(before_t.high > before_p.high);
    }
    before_p = before_t;
  }
}

TEST_CASE("Four hours a day do harm from the threshold on, and fewer hours at more pressure") {
  // Med Mol Morphol 2015;48:24: 50 mmHg none or mild, 60 to 70 necrosis, 4 h a day for 5 days.
  const DailyPressureLaw& law = tolerance_laws().daily_pressure;
  CHECK(units::to_mmhg(law.threshold.low) == Approx(50).epsilon(rounding));
  CHECK(units::to_mmhg(law.threshold.typical) == Approx(60).epsilon(rounding));
  CHECK(units::to_mmhg(law.threshold.high) == Approx(70).epsilon(rounding));
  CHECK_FALSE(daily_pressure_hours(from_mmhg(59.9), law.threshold.typical));
  for (const double threshold : {law.threshold.low, law.threshold.typical, law.threshold.high}) {
    CHECK(daily_pressure_hours(threshold, threshold) == 4.0);
  }
  // Beyond what was tried: assumed to go as 1/p.
  const HoursLimit twice = daily_pressure_hours(from_mmhg(120), law.threshold.typical);
  CHECK(twice.value_or(0) == Approx(2).epsilon(rounding));
}

TEST_CASE("The muscle curve turned round meets the printed sigmoid") {
  for (double minutes = 5; minutes <= 200; minutes += 5) {
    CAPTURE(minutes);
    const HoursLimit hours = muscle_hours(from_kpa(muscle_bears_kpa(minutes)));
    REQUIRE(hours);
    // Near its ends the sigmoid is flat to 1e-6 of its height: that much of the digits is lost.
    CHECK(*hours * 60 == Approx(minutes).epsilon(1e-6));
  }
  // Half way down at t0: C + K/2.
  CHECK(muscle_hours(from_kpa(20.5)).value_or(0) * 60 == Approx(95).epsilon(rounding));
}

TEST_CASE("Muscle gives no limit at or below the sigmoid's foot and is at once at its top") {
  CHECK_FALSE(muscle_hours(0));
  CHECK_FALSE(muscle_hours(from_kpa(9)));
  CHECK(muscle_hours(from_kpa(9.0001)).value_or(0) > 2);
  CHECK(muscle_hours(from_kpa(32)) == 0.0);
  CHECK(muscle_hours(from_kpa(1000)) == 0.0);
  // It comes down to the top without a jump: 1e-6 h is 4 ms.
  CHECK(muscle_hours(from_kpa(muscle_bears_kpa(1e-4))).value_or(1) < 1e-4);
}

TEST_CASE("Only sites with muscle beneath have the muscle curve, the bridge never") {
  CHECK_FALSE(has_muscle(Site::nasal_bridge));
  CHECK_FALSE(has_muscle(Site::nose_side));
  CHECK_FALSE(has_muscle(Site::cheekbone));
  CHECK_FALSE(has_muscle(Site::ear_top));
  CHECK(has_muscle(Site::cheek));
  CHECK(has_muscle(Site::chin));
  CHECK(has_muscle(Site::strap_cheek));
}

TEST_CASE("Every curve is printed with what it was measured on, its source and its status") {
  for (const ToleranceCurve curve : tolerance_curves) {
    const CurveRecord& record = record_of(curve);
    CAPTURE(name_of(curve));
    CHECK_FALSE(record.title.empty());
    CHECK_FALSE(record.measured_on.empty());
    CHECK_FALSE(record.says.empty());
    CHECK_FALSE(record.source.empty());
    const bool known = record.status == "published" || record.status == "from memory";
    CHECK(known);
  }
  CHECK(record_of(ToleranceCurve::pressure_time).status == "from memory");
  CHECK(record_of(ToleranceCurve::blood_flow).status == "published");
  CHECK(record_of(ToleranceCurve::muscle).measured_on.find("rats") != std::string::npos);
  CHECK(record_of(ToleranceCurve::nail_fold).says.find("never") != std::string::npos);
  CHECK(standing_lines().size() == 2);
}
