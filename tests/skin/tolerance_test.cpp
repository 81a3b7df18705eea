#include "skin/tolerance.hpp"

#include <cmath>
#include <limits>

#include "catch.hpp"
#include "skin/tolerance_questions.hpp"
#include "skin/tolerance_words.hpp"
#include "units/error.hpp"

using namespace rimload;
using units::from_kpa;
using units::from_mmhg;

namespace {

constexpr double rounding = 1e-12;  // of closed forms in doubles
constexpr double no_number = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();

WearPlan with_spread(double spread) {
  WearPlan plan = sure(8);
  plan.pressure_spread = spread;
  return plan;
}

}  // namespace

TEST_CASE("A steady pressure gives each end of the product over its own pressure") {
  const SiteQuestion bridge = steady(Site::nasal_bridge, 65);
  const CurveReading read = reading(ToleranceCurve::pressure_time, bridge, with_spread(0.2));
  REQUIRE(read.verdict == Verdict::hours);
  REQUIRE(read.hours);
  // 200, 300 and 450 mmHg h over a fifth more, as it is, and a fifth less.
  CHECK(read.hours->low_h == Approx(200 / (65 * 1.2)).epsilon(rounding));
  CHECK(or_never(read.hours->typical_h) == Approx(300 / 65.0).epsilon(rounding));
  CHECK(or_never(read.hours->high_h) == Approx(450 / (65 * 0.8)).epsilon(rounding));
  CHECK(words_for(read) == "2.5 h to 8.6 h");
}

TEST_CASE("Daily pressure is open at the end where it gives no limit") {
  const CurveReading at_55 =
      reading(ToleranceCurve::daily_pressure, steady(Site::nasal_bridge, 55), sure(4));
  REQUIRE(at_55.hours);
  CHECK(at_55.hours->low_h == Approx(4 * 50 / 55.0).epsilon(rounding));
  CHECK_FALSE(at_55.hours->typical_h);
  CHECK_FALSE(at_55.hours->high_h);
  CHECK(words_for(at_55) ==
        "3.6 h at the cautious end, at the other no limit (not evidence of safety)");
  const CurveReading at_70 =
      reading(ToleranceCurve::daily_pressure, steady(Site::nasal_bridge, 71), sure(4));
  CHECK(words_for(at_70) == "2.8 h to 3.9 h");
  const CurveReading at_49 =
      reading(ToleranceCurve::daily_pressure, steady(Site::nasal_bridge, 49.9), sure(4));
  CHECK(at_49.verdict == Verdict::no_limit);
  CHECK(words_for(at_49) == "gives no limit at this pressure (not evidence of safety)");
  const CurveReading one_day =
      reading(ToleranceCurve::daily_pressure, steady(Site::nasal_bridge, 70), sure(4, 1));
  CHECK(one_day.verdict == Verdict::not_applicable);
}

TEST_CASE("Blood flow is said to stop or perhaps to stop, and no hours are given for it") {
  struct Row {
    double kpa;
    Verdict verdict;
  };
  // Goossens 1994: 11.6 kPa; a fifth either way assumed.
  for (const Row& row :
       {Row{9.2, Verdict::no_limit}, Row{9.4, Verdict::blood_flow_may_stop},
        Row{11.5, Verdict::blood_flow_may_stop}, Row{11.7, Verdict::blood_flow_stops}}) {
    CAPTURE(row.kpa);
    const SiteQuestion site = steady(Site::cheekbone, units::to_mmhg(from_kpa(row.kpa)));
    const CurveReading read = reading(ToleranceCurve::blood_flow, site, sure(1));
    CHECK(read.verdict == row.verdict);
    CHECK_FALSE(read.hours);
  }
}

TEST_CASE("With the shear of the published test blood flow stops at its lower pressure") {
  const double shear = units::to_mmhg(from_kpa(3.1));
  const auto flow = [&](double kpa, ToleranceCurve curve) {
    return reading(curve, steady(Site::cheekbone, units::to_mmhg(from_kpa(kpa)), shear), sure(1));
  };
  constexpr auto sheared = ToleranceCurve::blood_flow_with_shear;
  CHECK(flow(8.71, sheared).verdict == Verdict::blood_flow_stops);
  CHECK(flow(8.69, sheared).verdict == Verdict::blood_flow_may_stop);
  CHECK(flow(8.71, ToleranceCurve::blood_flow).verdict == Verdict::no_limit);
  const CurveReading none = reading(sheared, steady(Site::cheekbone, 65), sure(1));
  CHECK(words_for(none) == "not applicable, because no shear acts here in this estimate");
  const CurveReading strap = reading(sheared, steady(Site::ear_top, 65), sure(1));
  CHECK(strap.because == "shear under a strap is not computed");
}

TEST_CASE("R5: a third of shear brings the product's hours forward by the published share") {
  // 300/p: the hours fall by the same factor as the tolerated pressure.
  const auto typical = [](double shear) {
    const SiteQuestion site = steady(Site::nasal_bridge, 60, shear);
    return ends_of(reading(ToleranceCurve::pressure_time, site, sure(8))).typical;
  };
  const double factor = typical(20) / typical(0);
  CHECK(factor > 0.65);
  CHECK(factor < 0.85);
  CHECK(factor == Approx(1 / (1 + (11.6 - 8.7) / 3.1 / 3)).epsilon(rounding));
}

TEST_CASE("The muscle curve speaks of section stress only, and never at the bridge") {
  SiteQuestion bridge = steady(Site::nasal_bridge, 65);
  bridge.muscle_stress = from_kpa(25);
  const CurveReading refused = reading(ToleranceCurve::muscle, bridge, sure(8));
  CHECK(refused.verdict == Verdict::not_applicable);
  CHECK(refused.because == "there is no muscle at the nasal bridge");
  SiteQuestion cheek = steady(Site::cheek, 65);
  CHECK(reading(ToleranceCurve::muscle, cheek, sure(8)).verdict == Verdict::not_applicable);
  cheek.muscle_stress = from_kpa(20.5);
  const CurveReading read = reading(ToleranceCurve::muscle, cheek, sure(8));
  REQUIRE(read.verdict == Verdict::hours);
  CHECK(ends_of(read).typical == Approx(95.0 / 60).epsilon(rounding));  // C + K/2 at t0
  SiteQuestion nose = steady(Site::nose_side, 65);
  nose.muscle_stress = from_kpa(25);
  CHECK(reading(ToleranceCurve::muscle, nose, sure(8)).verdict == Verdict::not_applicable);
}

TEST_CASE("The nail fold is a reference beside the pressure, whatever the spread") {
  const CurveReading read =
      reading(ToleranceCurve::nail_fold, steady(Site::nasal_bridge, 64), with_spread(0.5));
  CHECK(read.verdict == Verdict::reference);
  CHECK(read.times_reference == Approx(2).epsilon(rounding));
  CHECK(words_for(read) == "2 times the figure: a reference, never an injury threshold");
}

TEST_CASE("Injury has no hours, whichever sign it is") {
  for (const InjurySign sign : injury_signs) {
    CAPTURE(name_of(sign));
    SiteQuestion site = steady(Site::cheek, 5);
    site.skin.injuries = {sign};
    CHECK(curve_readings(site, sure(1)).empty());
  }
}

TEST_CASE("The breath's mean makes the favourable end and the highest phase the cautious one") {
  SiteQuestion site = steady(Site::cheek, 80);
  site.phases[0].time_share = 0.67;
  site.phases.push_back({.sensor = from_mmhg(50), .mean = from_mmhg(50), .time_share = 0.33});
  const CurveReading read = reading(ToleranceCurve::pressure_time, site, sure(8));
  REQUIRE(read.hours);
  CHECK(read.hours->low_h == Approx(200.0 / 80).epsilon(rounding));
  CHECK(or_never(read.hours->typical_h) == Approx(300.0 / 80).epsilon(rounding));
  CHECK(or_never(read.hours->high_h) == Approx(450 / (0.67 * 80 + 0.33 * 50)).epsilon(rounding));
}

TEST_CASE("On a contact narrower than a sensor the mean over it makes the cautious end") {
  SiteQuestion narrow = steady(Site::nasal_bridge, 50);
  narrow.phases[0].mean = from_mmhg(90);
  narrow.phases[0].peak = from_mmhg(140);
  const Ends ends = ends_of(reading(ToleranceCurve::pressure_time, narrow, sure(8)));
  CHECK(ends.low == Approx(200.0 / 90).epsilon(rounding));
  CHECK(ends.typical == Approx(6).epsilon(rounding));
  // A wide contact with a hot spot: its mean is lower and says nothing.
  narrow.phases[0].mean = from_mmhg(20);
  CHECK(ends_of(reading(ToleranceCurve::pressure_time, narrow, sure(8))).low ==
        Approx(4).epsilon(rounding));
}

TEST_CASE("Hours worn come off the cautious end and not off the favourable one") {
  const SiteQuestion site = steady(Site::nasal_bridge, 60);
  WearPlan plan = sure(8);
  plan.hours_worn = 2;
  const Ends ends = ends_of(reading(ToleranceCurve::pressure_time, site, plan));
  CHECK(ends.low == Approx(200.0 / 60 - 2).epsilon(rounding));
  CHECK(ends.typical == Approx(3).epsilon(rounding));
  CHECK(ends.high == Approx(7.5).epsilon(rounding));
  CHECK(ends.fresh == Approx(200.0 / 60).epsilon(rounding));
  plan.hours_worn = 6;
  CHECK(ends_of(reading(ToleranceCurve::pressure_time, site, plan)).low == 0);
}

TEST_CASE("Moist skin doubles dry shear at the cautious end unless the balance knew of it") {
  SiteQuestion site = steady(Site::nasal_bridge, 60, 15);
  site.skin.moisture = Moisture::moist;
  // Friction of a humid cheek is about twice the dry (Hendriks 2010).
  CHECK(units::to_mmhg(load_on_skin(site, sure(8)).shear.harsh) == Approx(30).epsilon(rounding));
  CHECK(units::to_mmhg(load_on_skin(site, sure(8)).shear.mild) == Approx(15).epsilon(rounding));
  site.skin.friction = FrictionUsed::as_moist;
  CHECK(units::to_mmhg(load_on_skin(site, sure(8)).shear.harsh) == Approx(15).epsilon(rounding));
}

TEST_CASE("Where nothing presses, on lids and in children no curve speaks, with the reason") {
  for (const CurveReading& each : curve_readings(steady(Site::cheek, 0), sure(8))) {
    CHECK(words_for(each) == "not applicable, because nothing presses here in this estimate");
  }
  for (const CurveReading& each : curve_readings(steady(Site::eyelid, 20), sure(8))) {
    CHECK(words_for(each) == "not applicable, because no pressure is given on the lids");
  }
  WearPlan child = sure(8);
  child.wearer = Wearer::child;
  for (const CurveReading& each : curve_readings(steady(Site::cheek, 20), child)) {
    CHECK(words_for(each) ==
          "not applicable, because no curve and no tissue data of children exist");
  }
}

TEST_CASE("At 1 MPa the curves are reached at once, or within minutes") {
  SiteQuestion site = steady(Site::cheek, units::to_mmhg(1));
  site.muscle_stress = 1;
  CHECK(reading(ToleranceCurve::pressure_time, site, sure(8)).verdict == Verdict::at_once);
  CHECK(words_for(reading(ToleranceCurve::muscle, site, sure(8))) == "reached at once");
  CHECK(reading(ToleranceCurve::blood_flow, site, sure(8)).verdict == Verdict::blood_flow_stops);
  // 4 h times 70 mmHg over 7,501 mmHg.
  const Ends daily = ends_of(reading(ToleranceCurve::daily_pressure, site, sure(8)));
  CHECK(daily.high == Approx(4 * 70 * units::mmhg).epsilon(rounding));
}

TEST_CASE("What is no load, no time or no share is refused by value and unit") {
  const auto message = [](const SiteQuestion& site, const WearPlan& plan) -> std::string {
    try {
      (void)curve_readings(site, plan);
    } catch (const InternalError& error) {
      return error.what();
    }
    return "";
  };
  const SiteQuestion sound = steady(Site::cheek, 20);
  CHECK(message(sound, sure(8)).empty());
  for (const double bad : {no_number, -1e-9, infinity}) {
    CAPTURE(bad);
    for (double PhaseLoad::*field : {&PhaseLoad::sensor, &PhaseLoad::mean, &PhaseLoad::peak,
                                     &PhaseLoad::shear, &PhaseLoad::time_share}) {
      SiteQuestion site = sound;
      site.phases[0].*field = bad;
      CHECK(message(site, sure(8)).find("a phase's") != std::string::npos);
    }
    SiteQuestion site = sound;
    site.muscle_stress = bad;
    CHECK(message(site, sure(8)).find("N/mm2") != std::string::npos);
    WearPlan plan = sure(8);
    plan.hours_a_day = bad;
    CHECK(message(sound, plan).find("hours_a_day") != std::string::npos);
    plan = sure(8);
    plan.hours_worn = bad;
    CHECK(message(sound, plan).find("hours_worn") != std::string::npos);
    plan = sure(8);
    plan.policy_h = bad;
    CHECK(message(sound, plan).find("policy_h") != std::string::npos);
    CHECK(message(sound, with_spread(bad)).find("pressure_spread") != std::string::npos);
  }
  CHECK(message(sound, with_spread(1)).find("is 1") != std::string::npos);
  CHECK(message(sound, sure(8, 0)).find("days") != std::string::npos);
  SiteQuestion half = sound;
  half.phases[0].time_share = 0.5;
  CHECK(message(half, sure(8)).find("sum of time shares, needed 1, is 0.5") != std::string::npos);
  half.phases.clear();
  CHECK(message(half, sure(8)).find("sum of time shares") != std::string::npos);
}

TEST_CASE("Hours in words are rounded down, so that no word promises more than the curve") {
  CHECK(hours_words(0) == "no time");
  CHECK(hours_words(0.04) == "under 0.1 h");
  CHECK(hours_words(0.1) == "0.1 h");
  CHECK(hours_words(0.3) == "0.3 h");
  CHECK(hours_words(2.59) == "2.5 h");
  CHECK(hours_words(3.9999) == "3.9 h");
  CHECK(hours_words(12) == "12 h");
  for (double hours = 0.05; hours < 30; hours += 0.037) {
    const std::string words = hours_words(hours);
    CAPTURE(hours, words);
    if (hours >= 0.1) REQUIRE(std::stod(words) <= hours + 1e-9);  // a tenth is no exact double
    REQUIRE(words.ends_with(" h"));
  }
}

TEST_CASE("A cautious end that is used up is said so, beside what the other end leaves") {
  WearPlan worn = sure(8);
  worn.hours_worn = 5;
  const SiteQuestion site = steady(Site::nasal_bridge, 60);
  CHECK(words_for(reading(ToleranceCurve::pressure_time, site, worn)) ==
        "no time at the cautious end, 7.5 h at the other");
  CHECK(words_for(reading(ToleranceCurve::daily_pressure, site, worn)) ==
        "no time at the cautious end, at the other no limit (not evidence of safety)");
}
