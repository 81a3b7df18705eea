#include <algorithm>

#include "catch.hpp"
#include "skin/concern.hpp"
#include "skin/tolerance_questions.hpp"

using namespace rimload;
using units::from_mmhg;

namespace {

Concern level(const SiteQuestion& site, const WearPlan& plan) {
  return tolerance_of(site, plan).concern.level;
}

Concern bridge(double mmhg, const WearPlan& plan) {
  return level(steady(Site::nasal_bridge, mmhg), plan);
}

bool says(const SiteQuestion& site, const WearPlan& plan, const std::string& words) {
  const auto& reasons = tolerance_of(site, plan).concern.reasons;
  return std::any_of(reasons.begin(), reasons.end(), [&](const std::string& reason) {
    return reason.find(words) != std::string::npos;
  });
}

}  // namespace

TEST_CASE("R6: for hours a day over days concern steepens between 50 and 60 to 70 mmHg") {
  // By construction: 4 h a day for 5 days, 50 mmHg none or mild, 60 to 70 mmHg necrosis.
  const WearPlan plan = sure(4);
  CHECK(bridge(49, plan) == Concern::low);
  CHECK(bridge(51, plan) == Concern::raised);
  CHECK(bridge(59, plan) == Concern::raised);
  CHECK(bridge(61, plan) == Concern::high);
  CHECK(bridge(70, plan) == Concern::high);
  // Both steps, from low to high, lie in those 12 mmHg; on either side of them there is none.
  for (double mmhg = 1; mmhg < 50; mmhg += 1) REQUIRE(bridge(mmhg, plan) == Concern::low);
  for (double mmhg = 61; mmhg < 300; mmhg += 1) REQUIRE(bridge(mmhg, plan) == Concern::high);
}

TEST_CASE("R6: with pressure as unsure as by default the step to high still lies at 60 mmHg") {
  WearPlan plan = sure(4);
  plan.pressure_spread.reset();
  CHECK(bridge(30, plan) == Concern::low);
  CHECK(bridge(50, plan) == Concern::raised);
  CHECK(bridge(59, plan) == Concern::raised);
  CHECK(bridge(61, plan) == Concern::high);
}

TEST_CASE("Injury overrides all: level, no hours, no remark on load") {
  for (const InjurySign sign : injury_signs) {
    for (const double mmhg : {0.0, 5.0, 65.0, 900.0}) {
      SiteQuestion site = steady(Site::nasal_bridge, mmhg, mmhg / 3);
      site.skin.injuries = {sign};
      site.skin.modifiers = {SkinModifier::oedema};
      const SiteTolerance row = tolerance_of(site, sure(8));
      CAPTURE(name_of(sign), mmhg);
      CHECK(row.concern.level == Concern::injury);
      CHECK(row.curves.empty());
      REQUIRE(row.concern.reasons.size() == 1);
      CHECK(row.concern.reasons[0] == "Found: " + words_for(sign) + ". It is injury.");
    }
  }
}

TEST_CASE("Low concern says that it is not evidence of safety") {
  const SiteQuestion light = steady(Site::cheek, 8);
  CHECK(level(light, sure(2)) == Concern::low);
  CHECK(says(light, sure(2), "not evidence of safety"));
}

TEST_CASE("The nail fold has no say in concern") {
  // Above 32 mmHg, and no curve reached in an hour.
  CHECK(bridge(40, sure(1)) == Concern::low);
}

TEST_CASE("Blood flow that stops is high concern, that may stop raised, however short the wear") {
  // Goossens 1994: 87 mmHg; a fifth either way assumed. A few minutes only, on one day.
  CHECK(bridge(60, sure(0.1, 1)) == Concern::low);
  CHECK(bridge(80, sure(0.1, 1)) == Concern::raised);
  CHECK(bridge(88, sure(0.1, 1)) == Concern::high);
}

TEST_CASE("A child's concern is never low where something presses, as nothing is known") {
  WearPlan plan = sure(0.5, 1);
  plan.wearer = Wearer::child;
  CHECK(bridge(1, plan) == Concern::raised);
  CHECK(bridge(0, plan) == Concern::low);
}

TEST_CASE("Load on a lid is high concern whatever its size") {
  CHECK(level(steady(Site::eyelid, 0.1), sure(0.1)) == Concern::high);
  CHECK(level(steady(Site::eyelid, 0), sure(0.1)) == Concern::low);
}

TEST_CASE("What was chosen is named among the reasons") {
  SiteQuestion site = steady(Site::nasal_bridge, 40);
  for (const SkinModifier modifier : skin_modifiers) {
    site.skin.modifiers = {modifier};
    CHECK(says(site, sure(4), "Chosen: " + words_for(modifier)));
  }
  site.skin.moisture = Moisture::wet;
  CHECK(says(site, sure(4), "Chosen: wet skin"));
  WearPlan worn = sure(4);
  worn.hours_worn = 3;
  CHECK(says(site, worn, "3 h worn already"));
  CHECK_FALSE(says(steady(Site::nasal_bridge, 40), sure(4), "Chosen"));
}

TEST_CASE("A peak far above what a sensor reads is remarked on") {
  SiteQuestion site = steady(Site::nasal_bridge, 50);
  CHECK_FALSE(says(site, sure(4), "narrow"));
  site.phases[0].peak = from_mmhg(140);
  CHECK(says(site, sure(4), "peak 140 mmHg, 2.8 times what a sensor reads"));
}

TEST_CASE("Concern never falls with pressure, shear, hours, days or a modifier") {
  WearPlan plan = sure(4);
  plan.pressure_spread = 0.2;
  for (double mmhg = 2; mmhg < 200; mmhg += 6) {
    for (const double share : {0.0, 0.3, 1.0}) {
      for (const double hours : {0.0, 1.0, 4.0, 9.0}) {
        for (const int days : {1, 2, 7}) {
          plan.hours_a_day = hours;
          plan.days = days;
          const SiteQuestion site = steady(Site::cheek, mmhg, share * mmhg);
          const Concern here = level(site, plan);
          CAPTURE(mmhg, share, hours, days);
          REQUIRE(level(steady(Site::cheek, mmhg + 6, share * mmhg), plan) >= here);
          REQUIRE(level(steady(Site::cheek, mmhg, share * mmhg + 6), plan) >= here);
          for (const SkinModifier modifier : skin_modifiers) {
            REQUIRE(level(with_modifiers(site, {modifier}), plan) >= here);
          }
          WearPlan more = plan;
          more.hours_a_day += 2;
          REQUIRE(level(site, more) >= here);
          more = plan;
          more.days += 3;
          REQUIRE(level(site, more) >= here);
          more = plan;
          more.hours_worn += 2;
          REQUIRE(level(site, more) >= here);
        }
      }
    }
  }
}
