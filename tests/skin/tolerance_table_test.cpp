#include "skin/tolerance_table.hpp"

#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "catch.hpp"
#include "skin/tolerance_questions.hpp"
#include "units/error.hpp"

using namespace rimload;
using units::from_mmhg;

namespace {

SitePressure at(Site site, Side side, double mmhg) {
  SitePressure out{.site = site, .side = side};
  out.sensor = from_mmhg(mmhg);
  out.mean = from_mmhg(0.8 * mmhg);
  out.peak = from_mmhg(2 * mmhg);
  out.shear_peak = from_mmhg(0.5 * mmhg);
  return out;
}

// Looks at every object that holds a value: it must carry unit, source and status.
void require_sources(const nlohmann::json& place, const std::string& pointer, int& n) {
  if (place.is_object() && place.contains("value")) {
    INFO(pointer);
    ++n;
    REQUIRE(place.at("value").is_number());
    for (const char* key : {"unit", "source", "status"}) {
      REQUIRE(place.contains(key));
      REQUIRE_FALSE(place.at(key).get<std::string>().empty());
    }
    const std::string status = place.at("status");
    const bool known = status == "published" || status == "from memory" || status == "assumed";
    REQUIRE(known);
  }
  if (!place.is_structured()) return;
  for (const auto& [key, each] : place.items()) require_sources(each, pointer + "/" + key, n);
}

}  // namespace

TEST_CASE("A question holds a site's pressure in every phase, under straps too") {
  const std::vector<SitePressure> out_breath{at(Site::nasal_bridge, Side::midline, 60),
                                             at(Site::ear_top, Side::left, 20)};
  const std::vector<SitePressure> in_breath{at(Site::ear_top, Side::left, 30),
                                            at(Site::cheek, Side::right, 10)};
  const std::vector<SitesInPhase> phases{{out_breath, 0.6}, {in_breath, 0.4}};
  const std::vector<SiteQuestion> questions = site_questions(phases);
  REQUIRE(questions.size() == 3);
  const SiteQuestion& ear = questions[1];
  CHECK(ear.place == SidedSite{Site::ear_top, Side::left});
  REQUIRE(ear.phases.size() == 2);
  CHECK(ear.phases[0].sensor == from_mmhg(20));
  CHECK(ear.phases[0].time_share == 0.6);
  CHECK(ear.phases[1].sensor == from_mmhg(30));
  CHECK(ear.phases[1].time_share == 0.4);
  // The bridge isn't listed in the second phase, the cheek not in the first.
  CHECK(questions[0].phases[1].sensor == 0);
  CHECK(questions[2].phases[0].peak == 0);
  // Shear over the sensor's area: peak shear by sensor over peak pressure.
  CHECK(questions[0].phases[0].shear == Approx(from_mmhg(15)).epsilon(1e-14));
  const auto rows = tolerance_table(questions, sure(8));
  REQUIRE(rows.size() == 3);
  for (std::size_t k = 0; k < rows.size(); ++k) CHECK(rows[k].place == questions[k].place);
}

TEST_CASE("The most urgent row is injury, then what is to change, then the soonest check") {
  std::vector<SiteQuestion> sites{steady(Site::cheek, 5), steady(Site::nasal_bridge, 60),
                                  steady(Site::chin, 60)};
  CHECK(most_urgent(tolerance_table(sites, sure(8))).place.site == Site::nasal_bridge);
  sites.push_back(steady(Site::forehead, 900));
  CHECK(most_urgent(tolerance_table(sites, sure(8))).place.site == Site::forehead);
  sites[0].skin.injuries = {InjurySign::broken_skin};
  CHECK(most_urgent(tolerance_table(sites, sure(8))).place.site == Site::cheek);
  CHECK_THROWS_AS(most_urgent({}), InternalError);
}

TEST_CASE("Every number of skin's data has a value, a unit, a source and a status") {
  for (const char* name : {"tolerance-curves", "skin-modifiers", "check-practice"}) {
    const std::string path = std::string(RIMLOAD_SOURCE_DIR) + "/src/skin/data/" + name + ".json";
    CAPTURE(path);
    std::ifstream in(path);
    std::stringstream text;
    text << in.rdbuf();
    int n = 0;
    require_sources(nlohmann::json::parse(text.str()), "", n);
    CHECK(n >= 3);
    for (std::string line; std::getline(text, line);) REQUIRE(line.size() <= 100);
  }
}

TEST_CASE("Names in files are found again, and no other") {
  for (const SkinModifier each : skin_modifiers) CHECK(skin_modifier_named(name_of(each)) == each);
  for (const Moisture each : moistures) CHECK(moisture_named(name_of(each)) == each);
  for (const InjurySign each : injury_signs) CHECK(injury_sign_named(name_of(each)) == each);
  CHECK_FALSE(skin_modifier_named("injury"));
  CHECK_FALSE(moisture_named("damp"));
  CHECK_FALSE(injury_sign_named("oedema"));
}
