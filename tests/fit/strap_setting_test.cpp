#include "fit/strap_setting.hpp"

#include "case/mask_of_case.hpp"
#include "catch.hpp"
#include "fit/strap_window.hpp"
#include "stored_case.hpp"
#include "units/error.hpp"

using namespace rimload;

namespace {

StrapSetting setting_of(const Case& input) {
  return set_straps(input, FaceInUse(input.face), make_mask(input));
}

Case nasal(const std::string& word) {
  return case_of({.cushion = "demo-nasal", .rest = R"("straps": {"setting": ")" + word + R"("})"});
}

double each(const StrapSetting& setting) {
  REQUIRE_FALSE(setting.tension_n.empty());
  for (const double tension : setting.tension_n) CHECK(tension == setting.tension_n.front());
  return setting.tension_n.front();
}

}  // namespace

TEST_CASE("Given tensions are taken as they are") {
  const StrapSetting setting =
      setting_of(case_of({.rest = R"("straps": {"tension_N": {"upper": 3, "lower": 2}})"}));
  CHECK(setting.tension_n == std::vector<double>{3, 3, 2, 2});
  CHECK(setting.note.empty());
}

TEST_CASE("Words for a nasal mask are the published total forces towards the face") {
  for (const auto& [word, total_n] :
       {std::pair{"loose", 0.98}, std::pair{"appropriate", 3.43}, std::pair{"tight", 5.88}}) {
    CAPTURE(word);
    const Case input = nasal(word);
    const FaceInUse face(input.face);
    const Mask mask = make_mask(input);
    const StrapSetting setting = set_straps(input, face, mask);
    const Pose placement = Trial(input, face, mask).placement();
    double towards_face = 0;
    for (std::size_t k = 0; k < mask.straps.size(); ++k) {
      const Vec3 course = mask.straps[k].exit_face - placement * mask.straps[k].anchor_mask;
      towards_face -= setting.tension_n[k] * course.z() / course.norm();
    }
    CHECK(each(setting) > 0);
    CHECK(towards_face == Approx(total_n).epsilon(1e-9));
    CHECK(setting.note.find("Duong 2021") != std::string::npos);
  }
}

TEST_CASE("Words for an oronasal mask are below, in and above its window") {
  const Case input = case_of({});
  const FaceInUse face(input.face);
  const StrapWindow window = find_strap_window(input, face, make_mask(input));
  REQUIRE(window.seals);
  const auto tension = [&](StrapWord word) {
    Case asked = input;
    asked.straps = {.tension_n = {}, .word = word};
    return each(setting_of(asked));
  };
  CHECK(tension(StrapWord::below_window) == Approx(0.8 * window.sealing_n));
  CHECK(tension(StrapWord::in_window) == Approx(0.5 * (window.sealing_n + window.upper_n)));
  CHECK(tension(StrapWord::above_window) == Approx(1.25 * window.upper_n));
}

TEST_CASE("A word that says nothing of the cushion is an input error") {
  Case input = nasal("loose");
  input.straps.word = StrapWord::in_window;
  CHECK_THROWS_AS(setting_of(input), InputError);
  Case oronasal = case_of({});
  oronasal.straps.word = StrapWord::tight;
  CHECK_THROWS_AS(setting_of(oronasal), InputError);
}
