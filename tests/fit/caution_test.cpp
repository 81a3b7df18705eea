// The safety gate.
#include "fit/caution.hpp"

#include <algorithm>

#include "catch.hpp"

using namespace rimload;

namespace {

Case all_answered_no() {
  Case input;
  input.cushion.vented = true;
  input.circuit = Circuit::single_limb_passive;
  input.safety = {.vomiting_likely = false,
                  .airway_unprotected = false,
                  .altered_mental_state = false,
                  .facial_injury_or_surgery = false,
                  .cannot_remove_mask = false,
                  .implant_near_magnets = false,
                  .acute_failure = false,
                  .watched = false,
                  .skin_checked = true,
                  .injured_sites = {}};
  return input;
}

const Caution* find(const std::vector<Caution>& cautions, const std::string& key) {
  const auto found = std::find_if(cautions.begin(), cautions.end(),
                                  [&](const Caution& each) { return each.key == key; });
  return found == cautions.end() ? nullptr : &*found;
}

void check_stops(const Case& input, const std::string& key) {
  INFO(key);
  const auto cautions = cautions_for(input);
  const Caution* caution = find(cautions, key);
  REQUIRE(caution != nullptr);
  CHECK(caution->stop);
  CHECK(caution->asked);
  CHECK(caution == &cautions.front());
  CHECK(cautions.size() == 3);  // with the two standing lines
}

void check_not_checked(const Case& input, const std::string& key) {
  INFO(key);
  const auto cautions = cautions_for(input);
  const Caution* caution = find(cautions, key);
  REQUIRE(caution != nullptr);
  CHECK_FALSE(caution->asked);
  CHECK_FALSE(caution->stop);
  CHECK(caution->text.ends_with(": not checked."));
}

}  // namespace

TEST_CASE("with every question answered no, only the standing lines remain") {
  const auto cautions = cautions_for(all_answered_no());
  REQUIRE(cautions.size() == 2);
  CHECK(cautions[0].text.find("common practice, no source") != std::string::npos);
  CHECK(cautions[1].text.find("not a medical device") != std::string::npos);
}

TEST_CASE("each question answered yes stops, one left out is not checked") {
  struct Question {
    const char* key;
    std::optional<bool> SafetyAnswers::*answer;
  };
  for (const auto& [key, answer] :
       {Question{"vomiting", &SafetyAnswers::vomiting_likely},
        Question{"airway_unprotected", &SafetyAnswers::airway_unprotected},
        Question{"altered_mental_state", &SafetyAnswers::altered_mental_state},
        Question{"facial_injury_or_surgery", &SafetyAnswers::facial_injury_or_surgery},
        Question{"cannot_remove_mask", &SafetyAnswers::cannot_remove_mask}}) {
    Case input = all_answered_no();
    input.safety.*answer = true;
    check_stops(input, key);
    (input.safety.*answer).reset();
    check_not_checked(input, key);
  }
}

TEST_CASE("a mask without vent stops on a passive single limb and on no other circuit") {
  Case input = all_answered_no();
  input.cushion.vented = false;
  check_stops(input, "rebreathing");
  for (const Circuit circuit : {Circuit::single_limb_active, Circuit::dual_limb}) {
    input.circuit = circuit;
    CHECK(find(cautions_for(input), "rebreathing") == nullptr);
  }
  input.circuit = Circuit::not_named;
  check_not_checked(input, "rebreathing");
  input.cushion.vented = true;
  CHECK(find(cautions_for(input), "rebreathing") == nullptr);
}

TEST_CASE("an implant matters when the mask holds magnets") {
  Case input = all_answered_no();
  input.safety.implant_near_magnets = true;
  CHECK(find(cautions_for(input), "magnets") == nullptr);
  input.cushion.magnets = true;
  check_stops(input, "magnets");
  input.safety.implant_near_magnets.reset();
  check_not_checked(input, "magnets");
  input.safety.implant_near_magnets = false;
  CHECK(find(cautions_for(input), "magnets") == nullptr);
}

TEST_CASE("injured skin stops at each place, says to take the load off, and never to dress it") {
  Case input = all_answered_no();
  input.safety.injured_sites = {{Site::nasal_bridge, Side::midline}, {Site::cheek, Side::left}};
  const auto cautions = cautions_for(input);
  REQUIRE(cautions.size() == 4);
  CHECK(cautions[0].text.find("at the nasal bridge is broken") != std::string::npos);
  CHECK(cautions[1].text.find("at the cheek (left) is broken") != std::string::npos);
  for (std::size_t k = 0; k < 2; ++k) {
    CHECK(cautions[k].stop);
    CHECK(cautions[k].text.find("Take the load off it and call") != std::string::npos);
    CHECK(cautions[k].text.find("Don't cover it") != std::string::npos);
  }
}

TEST_CASE("skin that nobody looked at is not checked, whether unanswered or answered no") {
  Case input = all_answered_no();
  input.safety.skin_checked.reset();
  check_not_checked(input, "injured_skin");
  input.safety.skin_checked = false;
  check_not_checked(input, "injured_skin");
}

TEST_CASE("what stops is read before what was not checked") {
  Case input;  // nothing answered
  input.safety.cannot_remove_mask = true;
  input.safety.injured_sites = {{Site::chin, Side::midline}};
  const auto cautions = cautions_for(input);
  CHECK(std::is_sorted(cautions.begin(), cautions.end(),
                       [](const Caution& a, const Caution& b) { return a.stop && !b.stop; }));
  CHECK(std::count_if(cautions.begin(), cautions.end(),
                      [](const Caution& each) { return each.stop; }) == 2);
  CHECK(std::count_if(cautions.begin(), cautions.end(),
                      [](const Caution& each) { return !each.asked; }) == 4);
}
