#include "choice/size_choice.hpp"

#include <algorithm>

#include "catch.hpp"
#include "stored_case.hpp"

using namespace rimload;

namespace {

SizeChoice choose(const Case& input, int n_draws = 4, int n_threads = 2) {
  return choose_size(input, {.n_draws = n_draws, .n_threads = n_threads});
}

const SizeChoice& demonstration() {
  static const SizeChoice choice = choose(case_of({}));
  return choice;
}

bool has_reason(const Case& input, CushionType type, const std::string& word) {
  for (const Cushion& cushion : input.catalogue) {
    if (cushion.type != type) continue;
    for (const std::string& reason : reasons_against(input, cushion)) {
      if (reason.find(word) != std::string::npos) return true;
    }
  }
  return false;
}

}  // namespace

TEST_CASE("every cushion of the catalogue is tried, and ranked by its worst reading") {
  const SizeChoice& choice = demonstration();
  REQUIRE(choice.candidates.size() == choice.input.catalogue.size());
  double before = 0;
  bool fitting = true;
  for (const SizeCandidate& candidate : choice.candidates) {
    if (!candidate.rank || !candidate.worst_band) continue;
    const bool fits =
        candidate.too_near.empty() && candidate.seals_share >= usual_size_rule().seals_in_share;
    if (fitting && !fits) before = 0;  // those that don't fit begin anew
    CHECK((fitting || !fits));
    fitting = fits;
    CHECK(candidate.worst_band->median >= before);
    before = candidate.worst_band->median;
  }
}

TEST_CASE("ranks and bands do not depend on the number of threads") {
  const SizeChoice one = choose(case_of({}), 2, 1);
  const SizeChoice two = choose(case_of({}), 2, 2);
  REQUIRE(one.candidates.size() == two.candidates.size());
  for (std::size_t k = 0; k < one.candidates.size(); ++k) {
    CHECK(one.candidates[k].cushion.name == two.candidates[k].cushion.name);
    CHECK(one.candidates[k].rank == two.candidates[k].rank);
    REQUIRE(one.candidates[k].draws.size() == two.candidates[k].draws.size());
    for (std::size_t d = 0; d < one.candidates[k].draws.size(); ++d) {
      CHECK(one.candidates[k].draws[d].worst == two.candidates[k].draws[d].worst);
    }
  }
}

TEST_CASE("the order of the catalogue does not change a rank") {
  Case turned = case_of({});
  std::reverse(turned.catalogue.begin(), turned.catalogue.end());
  const SizeChoice other = choose(turned);
  for (const SizeCandidate& candidate : demonstration().candidates) {
    const auto same = std::find_if(other.candidates.begin(), other.candidates.end(),
                                   [&](const SizeCandidate& each) {
                                     return each.cushion.name == candidate.cushion.name &&
                                            each.cushion.size == candidate.cushion.size;
                                   });
    REQUIRE(same != other.candidates.end());
    CHECK(same->rank == candidate.rank);
  }
}

TEST_CASE("types are left out by use, with the reason") {
  const Case breather = case_of({.rest = R"("mouth": "mouth_breather")"});
  CHECK(has_reason(breather, CushionType::nasal, "mouth breather"));
  CHECK_FALSE(has_reason(breather, CushionType::oronasal, "mouth breather"));
  const Case acute = case_of({.rest = R"("safety": {"acute_failure": true})"});
  CHECK(has_reason(acute, CushionType::nasal, "acute failure"));
  const Case vomits = case_of({.rest = R"("safety": {"vomiting_likely": true})"});
  CHECK(has_reason(vomits, CushionType::oronasal, "vomit"));
  CHECK_FALSE(has_reason(vomits, CushionType::nasal, "vomit"));
  const Case watched = case_of({.rest = R"("safety": {"vomiting_likely": true, "watched": true})"});
  CHECK_FALSE(has_reason(watched, CushionType::oronasal, "vomit"));
  const Case bound = case_of({.rest = R"("safety": {"cannot_remove_mask": true})"});
  CHECK(has_reason(bound, CushionType::total_face, "take it off"));
  CHECK(has_reason(case_of({.rest = R"("circuit": "dual_limb")"}), CushionType::oronasal, "vent"));
}

TEST_CASE("a cushion that presses injured skin is left out once tried") {
  const Case injured = case_of({.rest = R"("injured_skin": [{"site": "nasal_bridge"}])"});
  const SizeChoice choice = choose(injured, 0);
  for (const SizeCandidate& candidate : choice.candidates) {
    const bool over_bridge = candidate.cushion.type == CushionType::nasal ||
                             candidate.cushion.type == CushionType::oronasal;
    if (over_bridge && candidate.estimate) {
      REQUIRE_FALSE(candidate.excluded.empty());
      CHECK(candidate.excluded.front().find("nasal bridge") != std::string::npos);
      CHECK_FALSE(candidate.rank);
    }
  }
}

TEST_CASE("when no cushion is left, it is said what to try") {
  const Case nobody =
      case_of({.rest = R"("safety": {"vomiting_likely": true, "acute_failure": true})"});
  const SizeChoice choice = choose(nobody, 0);
  CHECK_FALSE(choice.any_fits);
  CHECK_FALSE(choice.advice.empty());
  for (const SizeCandidate& candidate : choice.candidates) CHECK_FALSE(candidate.rank);
}

TEST_CASE("a beard that leaks past the limit fits no cushion, and shaving is what to try") {
  const Case bearded =
      case_of({.rest = R"("beard": {"region": "full", "hair_mm": 8, "density": "full"},
                           "leak_limit_L_min": 3, "leak_target_L_min": 3)"});
  const SizeChoice choice = choose(bearded, 0);
  CHECK_FALSE(choice.any_fits);
  REQUIRE(choice.candidates.front().rank);
  CHECK(choice.candidates.front().leaks_too_much);
  REQUIRE_FALSE(choice.advice.empty());
  CHECK(choice.advice.front().find("shave") != std::string::npos);
}
