#include <algorithm>
#include <cmath>

#include "catch.hpp"
#include "skin/check_plan.hpp"
#include "skin/tolerance_questions.hpp"

using namespace rimload;

namespace {

CheckPlan plan_at(double mmhg, const WearPlan& plan) {
  return tolerance_of(steady(Site::nasal_bridge, mmhg), plan).plan;
}

bool says(const CheckPlan& plan, const std::string& words) {
  return std::any_of(plan.words.begin(), plan.words.end(), [&](const std::string& line) {
    return line.find(words) != std::string::npos;
  });
}

WearPlan policy(double hours) {
  WearPlan plan = sure(8);
  plan.policy_h = hours;
  return plan;
}

// How soon the plan acts: the later the larger.
double delay(const CheckPlan& plan) {
  if (plan.act == CheckAct::off_load_and_call) return -2;
  return plan.act == CheckAct::change_now ? -1 : plan.next_h.value_or(-3);
}

}  // namespace

TEST_CASE("Where no curve gives a limit the skin is checked as bundles in use do, every 4 h") {
  const CheckPlan plan = plan_at(5, sure(8));
  CHECK(plan.act == CheckAct::check);
  CHECK(plan.every_h == 4.0);
  CHECK(plan.next_h == 4.0);
  CHECK(plan.bound == "bundles in use");
  CHECK(says(plan, "Check and relieve every 4 h, first in 4 h; set by bundles in use."));
  CHECK(says(plan, "look and feel"));
}

TEST_CASE("Local policy counts where it is the sooner, and is named where it is not") {
  CHECK(plan_at(5, policy(2)).every_h == 2.0);
  CHECK(plan_at(5, policy(2)).bound == "local policy");
  CHECK(plan_at(5, policy(6)).every_h == 4.0);
  CHECK(says(plan_at(5, policy(6)), "Local policy allows 6 h; the sooner counts."));
  CHECK_FALSE(says(plan_at(5, policy(2)), "Local policy allows"));
}

TEST_CASE("The cautious end of the shortest curve, rounded down to half hours, sets the interval") {
  // 200 mmHg h over 75 mmHg is 2.67 h.
  CHECK(plan_at(75, sure(8)).every_h == 2.5);
  CHECK(plan_at(75, sure(8)).bound == "the cautious end of \"Pressure times time\"");
  CHECK(says(plan_at(75, sure(8)), "Rotate masks"));
  CHECK_FALSE(says(plan_at(49, sure(8)), "Rotate masks"));
  // 13 kPa in muscle over 0.7: 95 min + ln(23/9.57 - 1)/0.15 is 1.62 h.
  SiteQuestion cheek = steady(Site::cheek, 20);
  cheek.muscle_stress = units::from_kpa(13);
  CHECK(tolerance_of(cheek, sure(8)).plan.every_h == 1.5);
  CHECK(tolerance_of(cheek, sure(8)).plan.bound == "the cautious end of \"Stress in muscle\"");
}

TEST_CASE("Hours worn bring the next check forward and leave the interval after it") {
  WearPlan plan = sure(8, 1);
  plan.hours_worn = 1;
  CHECK(plan_at(75, plan).every_h == 2.5);
  CHECK(plan_at(75, plan).next_h == 1.5);
  plan.hours_worn = 2.5;
  CHECK(plan_at(75, plan).act == CheckAct::relieve_now);
  CHECK(plan_at(75, plan).next_h == 0.0);
  CHECK(plan_at(75, plan).every_h == 2.5);
  CHECK(says(plan_at(75, plan), "take the load off now"));
}

TEST_CASE("A cautious end below half an hour means change or off-load now, with no interval") {
  // 200 mmHg h are an hour at 200 mmHg, and the product is not taken for less.
  CHECK(plan_at(199, sure(8, 1)).every_h == 1.0);
  for (const auto& [mmhg, days] :
       {std::pair{201.0, 1}, std::pair{281.0, 5}, std::pair{7500.0, 1}}) {
    CAPTURE(mmhg, days);
    const CheckPlan plan = plan_at(mmhg, sure(8, days));
    CHECK(plan.act == CheckAct::change_now);
    CHECK_FALSE(plan.every_h);
    CHECK_FALSE(plan.next_h);
    CHECK(says(plan, "Change the interface or take the load off this site now."));
  }
}

TEST_CASE(
    "Injury is off-loaded and called for at any load, and never covered and carried on with") {
  for (const InjurySign sign : injury_signs) {
    for (const double mmhg : {0.0, 10.0, 500.0}) {
      SiteQuestion site = steady(Site::cheek, mmhg);
      site.skin.injuries = {sign};
      const CheckPlan plan = tolerance_of(site, policy(2)).plan;
      CAPTURE(name_of(sign), mmhg);
      CHECK(plan.act == CheckAct::off_load_and_call);
      CHECK_FALSE(plan.every_h);
      CHECK(says(plan, "off-load the site, change the interface, call"));
      CHECK(says(plan, "Don't cover it with a dressing"));
    }
  }
}

TEST_CASE("No plan lets more time pass than practice allows, and each is a whole half hour") {
  for (double mmhg = 0; mmhg < 400; mmhg += 3) {
    for (const double worn : {0.0, 0.7, 3.0, 20.0}) {
      for (const double spread : {0.0, 0.3}) {
        WearPlan plan = sure(8);
        plan.hours_worn = worn;
        plan.pressure_spread = spread;
        const CheckPlan out = plan_at(mmhg, plan);
        CAPTURE(mmhg, worn, spread);
        if (out.act == CheckAct::change_now) {
          REQUIRE_FALSE(out.every_h);
          continue;
        }
        REQUIRE(out.every_h.value_or(9) <= 4);
        REQUIRE(out.every_h.value_or(0) >= 0.5);
        REQUIRE(out.next_h.value_or(9) <= out.every_h.value_or(0));
        REQUIRE(std::fmod(*out.every_h, 0.5) == 0);
        REQUIRE(std::fmod(out.next_h.value_or(0.1), 0.5) == 0);
        REQUIRE((out.next_h == 0.0) == (out.act == CheckAct::relieve_now));
      }
    }
  }
}

TEST_CASE("More load, more hours worn or a modifier never puts a check off") {
  for (double mmhg = 0; mmhg < 400; mmhg += 3) {
    for (const double worn : {0.0, 0.7, 2.0}) {
      WearPlan plan = sure(8);
      plan.hours_worn = worn;
      WearPlan longer = plan;
      longer.hours_worn += 0.6;
      CAPTURE(mmhg, worn);
      const double before = delay(plan_at(mmhg, plan));
      REQUIRE(delay(plan_at(mmhg + 3, plan)) <= before);
      REQUIRE(delay(plan_at(mmhg, longer)) <= before);
      for (const SkinModifier modifier : skin_modifiers) {
        const auto weak = with_modifiers(steady(Site::nasal_bridge, mmhg), {modifier});
        REQUIRE(delay(tolerance_of(weak, plan).plan) <= before);
      }
    }
  }
}

TEST_CASE("A lid under load is off-loaded now, and children are checked as practice has it") {
  CHECK(tolerance_of(steady(Site::eyelid, 1), sure(8)).plan.act == CheckAct::change_now);
  CHECK(tolerance_of(steady(Site::eyelid, 0), sure(8)).plan.act == CheckAct::check);
  WearPlan child = sure(8);
  child.wearer = Wearer::child;
  CHECK(plan_at(60, child).every_h == 4.0);
}
