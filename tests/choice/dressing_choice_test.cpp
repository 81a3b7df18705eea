#include "choice/dressing_choice.hpp"

#include "catch.hpp"
#include "stored_case.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

Case with_catalogue(const std::string& rest = {}) {
  return case_of(
      {.rest = R"("dressings": {"catalogue": "../catalogue/demo-dressings.json"})" + rest});
}

const DressingChoice& demonstration() {
  static const DressingChoice choice = choose_dressings(with_catalogue());
  return choice;
}

}  // namespace

TEST_CASE("every dressing of the catalogue is solved at every place that needs one") {
  const DressingChoice& choice = demonstration();
  REQUIRE(choice.before);
  REQUIRE_FALSE(choice.places.empty());
  std::size_t n_places = 0;
  for (const DressedPlace& place : choice.places) {
    n_places += place.places.size();
    CHECK(place.options.size() == choice.bare.input.dressings->dressings.size());
    for (const DressingOption& option : place.options) {
      CAPTURE(option.pieces[0].dressing.name, option.why);
      CHECK_FALSE(option.why.empty());
      CHECK(option.same_straps.breath.seated);
      if (option.just_sealed) {
        CHECK(option.just_sealed->breath.seals(choice.bare.input));
        CHECK(option.section.has_value());
      }
    }
  }
  CHECK(n_places == choice.bare.dressing_places.size());
}

TEST_CASE("what is called helpful lowers strain at its place without more load there") {
  const ChoiceRule& rule = usual_choice_rule();
  std::vector<DressedPlace> places = demonstration().places;
  REQUIRE(demonstration().everywhere);
  places.push_back(*demonstration().everywhere);
  int n_helpful = 0;
  for (const DressedPlace& place : places) {
    if (place.best) CHECK(place.options[*place.best].helps);
    for (const DressingOption& option : place.options) {
      if (!option.helps) continue;
      CAPTURE(option.pieces[0].dressing.name, option.why);
      ++n_helpful;
      CHECK(tissue_strain(*option.section) <= (1 - rule.helps_by) * tissue_strain(*place.section));
      CHECK(option.place.sensor <= (1 + rule.harm_by) * place.bare.sensor);
      CHECK(option.pieces[0].dressing.cut_to_size);
    }
  }
  CHECK(n_helpful > 0);  // one kind all round does help
}

TEST_CASE("what is chosen is worn in the estimate after, just sealed") {
  const DressingChoice& choice = demonstration();
  REQUIRE(choice.after.has_value() == !choice.chosen.empty());
  if (choice.after) {
    CHECK(choice.after->worn.size() == choice.chosen.size());
    for (const PhaseEstimate& phase : choice.after->phases) {
      CHECK(phase.seated);
      CHECK(phase.seal.sealed_fraction == Approx(1));
    }
  }
}

TEST_CASE("padding all round lowers strain in the bridge by what was published of hydrogel") {
  // Grigatti 2022, a hydrogel dressing under an oronasal mask: tissue exposure at the bridge lower
  // by 30 % at least; evidence R3 asks for 20 to 60 % in section stress. Calibration: the invented
  // hydrogel's thickness was chosen with it. Wherever it lies alone it lifts the rim and does
  // worse.
  const DressingChoice& choice = demonstration();
  REQUIRE(choice.everywhere);
  const double bare = choice.everywhere->section->answer.bone_pressure_peak;
  bool found = false;
  for (const DressingOption& option : choice.everywhere->options) {
    if (option.pieces[0].dressing.kind != DressingKind::hydrogel) continue;
    found = true;
    const double fall = 1 - option.section->answer.bone_pressure_peak / bare;
    CAPTURE(fall);
    CHECK(fall > 0.2);
    CHECK(fall < 0.6);
  }
  CHECK(found);
  const DressedPlace& bridge = choice.places.front();
  REQUIRE(bridge.places.front().site.site == Site::nasal_bridge);
  for (const DressingOption& option : bridge.options) {
    if (option.pieces[0].dressing.kind != DressingKind::hydrogel) continue;
    CHECK(option.section->answer.bone_pressure_peak > bare);
  }
}

TEST_CASE("a mask that no strap seals gets no choice of dressings") {
  const Case leaky =
      case_of({.size = "S",
               .settings = R"({"cpap_cmH2O": 40})",
               .rest = R"("dressings": {"catalogue": "../catalogue/demo-dressings.json"},
                  "straps": {"tension_N": {"upper_left": 0.1, "upper_right": 0.1,
                                           "lower_left": 0.1, "lower_right": 0.1}})"});
  const DressingChoice choice = choose_dressings(leaky);
  CHECK_FALSE(choice.before);
  CHECK(choice.chosen.empty());
}
