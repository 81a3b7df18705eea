// What holds of the bands at every load, sampled on grids.
#include <algorithm>

#include "catch.hpp"
#include "skin/tolerance_questions.hpp"
#include "skin/tolerance_words.hpp"

using namespace rimload;
using units::from_kpa;
using units::from_mmhg;

namespace {

constexpr std::array mmhg_grid{0.5,  5.0,  15.0, 29.0, 31.0,  48.0,  52.0,  58.0,   61.0,
                               69.0, 71.0, 88.0, 95.0, 150.0, 299.0, 301.0, 1000.0, 7500.0};
constexpr std::array shear_grid{0.0, 1.0, 10.0, 25.0, 60.0, 400.0};
constexpr std::array spread_grid{0.0, 0.1, 0.3, 0.6, 0.95};

// No end of a later, no better blood flow.
void require_no_longer(const std::vector<CurveReading>& later,
                       const std::vector<CurveReading>& before) {
  REQUIRE(later.size() == before.size());
  for (std::size_t k = 0; k < later.size(); ++k) {
    const Ends a = ends_of(later[k]);
    const Ends b = ends_of(before[k]);
    INFO(name_of(later[k].curve));
    REQUIRE(a.low <= b.low);
    REQUIRE(a.typical <= b.typical);
    REQUIRE(a.high <= b.high);
    REQUIRE(a.fresh <= b.fresh);
    REQUIRE(flow_rank(later[k]) >= flow_rank(before[k]));
  }
}

WearPlan plan_with(double spread) {
  WearPlan plan = sure(8);
  plan.pressure_spread = spread;
  return plan;
}

// Cheek: every curve can speak.
SiteQuestion cheek_at(double mmhg, double shear_mmhg, double muscle_kpa = 12) {
  SiteQuestion site = steady(Site::cheek, mmhg, shear_mmhg);
  site.muscle_stress = from_kpa(muscle_kpa);
  return site;
}

std::vector<SiteSkin> weak_skins() {
  std::vector<SiteSkin> out;
  for (const SkinModifier modifier : skin_modifiers) {
    SiteSkin skin;
    skin.modifiers = {modifier};
    out.push_back(skin);
  }
  for (const Moisture moisture : {Moisture::moist, Moisture::wet}) {
    SiteSkin skin;
    skin.moisture = moisture;
    out.push_back(skin);
    skin.friction = FrictionUsed::as_moist;
    out.push_back(skin);
  }
  return out;
}

}  // namespace

TEST_CASE("The ends of every band stand in order, and so do the loads they come from") {
  for (const double mmhg : mmhg_grid) {
    for (const double shear : shear_grid) {
      for (const double spread : spread_grid) {
        for (const double worn : {0.0, 1.5, 30.0}) {
          WearPlan plan = plan_with(spread);
          plan.hours_worn = worn;
          const SiteQuestion site = cheek_at(mmhg, shear);
          CAPTURE(mmhg, shear, spread, worn);
          for (const LoadBand& load : {pressure_band(site, plan), shear_band(site, plan),
                                       load_on_skin(site, plan).shear}) {
            REQUIRE(load.mild <= load.typical);
            REQUIRE(load.typical <= load.harsh);
          }
          for (const CurveReading& each : curve_readings(site, plan)) {
            const Ends ends = ends_of(each);
            REQUIRE(ends.low >= 0);
            REQUIRE(ends.low <= ends.typical);
            REQUIRE(ends.typical <= ends.high);
            REQUIRE(ends.low <= ends.fresh);
          }
        }
      }
    }
  }
}

TEST_CASE("More pressure never gives more hours") {
  for (const double spread : spread_grid) {
    for (const double shear : shear_grid) {
      for (std::size_t k = 1; k < mmhg_grid.size(); ++k) {
        CAPTURE(spread, shear, mmhg_grid[k]);
        require_no_longer(curve_readings(cheek_at(mmhg_grid[k], shear), plan_with(spread)),
                          curve_readings(cheek_at(mmhg_grid[k - 1], shear), plan_with(spread)));
      }
    }
  }
}

TEST_CASE("More shear never gives more hours") {
  for (const double spread : spread_grid) {
    for (const double mmhg : mmhg_grid) {
      for (std::size_t k = 1; k < shear_grid.size(); ++k) {
        CAPTURE(spread, mmhg, shear_grid[k]);
        require_no_longer(curve_readings(cheek_at(mmhg, shear_grid[k]), plan_with(spread)),
                          curve_readings(cheek_at(mmhg, shear_grid[k - 1]), plan_with(spread)));
      }
    }
  }
}

TEST_CASE("More stress in muscle, or more hours worn, never gives more hours") {
  for (const double mmhg : mmhg_grid) {
    for (double kpa = 1; kpa < 60; kpa += 1.5) {
      CAPTURE(mmhg, kpa);
      const WearPlan fresh = plan_with(0.2);
      WearPlan worn = fresh;
      worn.hours_worn = kpa / 10;
      const auto before = curve_readings(cheek_at(mmhg, 5, kpa), fresh);
      require_no_longer(curve_readings(cheek_at(mmhg, 5, kpa + 1.5), fresh), before);
      require_no_longer(curve_readings(cheek_at(mmhg, 5, kpa), worn), before);
    }
  }
}

TEST_CASE("A larger load in one phase alone never gives more hours") {
  for (const double mmhg : mmhg_grid) {
    SiteQuestion site = cheek_at(mmhg, 0.2 * mmhg);
    site.phases[0].time_share = 0.4;
    site.phases.push_back({.sensor = from_mmhg(40), .mean = from_mmhg(30), .time_share = 0.6});
    const auto before = curve_readings(site, plan_with(0.3));
    for (double PhaseLoad::*field :
         {&PhaseLoad::sensor, &PhaseLoad::mean, &PhaseLoad::peak, &PhaseLoad::shear}) {
      for (const std::size_t phase : {std::size_t{0}, std::size_t{1}}) {
        CAPTURE(mmhg, phase);
        SiteQuestion more = site;
        more.phases[phase].*field += from_mmhg(13);
        require_no_longer(curve_readings(more, plan_with(0.3)), before);
      }
    }
  }
}

TEST_CASE("A modifier never lengthens the hours and leaves the favourable end alone") {
  for (const double mmhg : mmhg_grid) {
    for (const double shear : shear_grid) {
      const SiteQuestion sound = cheek_at(mmhg, shear);
      const auto before = curve_readings(sound, plan_with(0.3));
      for (const SiteSkin& skin : weak_skins()) {
        SiteQuestion weak = sound;
        weak.skin = skin;
        CAPTURE(mmhg, shear, name_of(skin.moisture), skin.modifiers.size());
        const auto after = curve_readings(weak, plan_with(0.3));
        require_no_longer(after, before);
        for (std::size_t k = 0; k < after.size(); ++k) {
          // Else a band that was open at both ends would count as never.
          REQUIRE(ends_of(after[k]).high == ends_of(before[k]).high);
        }
      }
    }
  }
}

TEST_CASE("Two modifiers shorten no less than one, and one named twice counts once") {
  for (const double mmhg : mmhg_grid) {
    const SiteQuestion site = cheek_at(mmhg, 5);
    const auto one = with_modifiers(site, {SkinModifier::oedema});
    const auto twice = with_modifiers(site, {SkinModifier::oedema, SkinModifier::oedema});
    const auto two = with_modifiers(site, {SkinModifier::oedema, SkinModifier::poor_perfusion});
    CAPTURE(mmhg);
    require_no_longer(curve_readings(two, sure(8)), curve_readings(one, sure(8)));
    REQUIRE(pressure_band(twice, sure(8)).harsh == pressure_band(one, sure(8)).harsh);
    REQUIRE(pressure_band(two, sure(8)).harsh > pressure_band(one, sure(8)).harsh);
  }
}

TEST_CASE("A wider spread of pressure gives a band that holds the narrower one") {
  for (const double mmhg : mmhg_grid) {
    for (const double shear : shear_grid) {
      const SiteQuestion site = cheek_at(mmhg, shear);
      for (std::size_t k = 1; k < spread_grid.size(); ++k) {
        CAPTURE(mmhg, shear, spread_grid[k]);
        const auto wide = curve_readings(site, plan_with(spread_grid[k]));
        const auto narrow = curve_readings(site, plan_with(spread_grid[k - 1]));
        for (std::size_t c = 0; c < wide.size(); ++c) {
          REQUIRE(ends_of(wide[c]).low <= ends_of(narrow[c]).low);
          REQUIRE(ends_of(wide[c]).high >= ends_of(narrow[c]).high);
          REQUIRE(flow_rank(wide[c]) >= flow_rank(narrow[c]));
        }
      }
    }
  }
}

TEST_CASE("No word of a reading speaks of infinity, of safety as given, or of chance") {
  for (const double mmhg : mmhg_grid) {
    for (const double spread : spread_grid) {
      for (const double worn : {0.0, 3.0}) {
        WearPlan plan = plan_with(spread);
        plan.hours_worn = worn;
        const SiteTolerance row = tolerance_of(cheek_at(mmhg, 10), plan);
        std::vector<std::string> lines = row.concern.reasons;
        lines.insert(lines.end(), row.plan.words.begin(), row.plan.words.end());
        for (const CurveReading& each : row.curves) lines.push_back(words_for(each));
        for (const std::string& line : lines) {
          CAPTURE(mmhg, spread, worn, line);
          REQUIRE_FALSE(line.empty());
          REQUIRE(line.size() <= 100);
          for (const char* word : {"inf", "nan", "1e+", "probab", "chance", "risk", "%"}) {
            REQUIRE(line.find(word) == std::string::npos);
          }
          const std::size_t no_limit = line.find("no limit");
          if (no_limit == std::string::npos) continue;
          REQUIRE(line.find("not evidence of safety") != std::string::npos);
        }
      }
    }
  }
}
