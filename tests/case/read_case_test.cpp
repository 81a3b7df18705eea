// What a case holds once it is read.
#include "case/read_case.hpp"

#include "case/mask_of_case.hpp"
#include "case/sample_files.hpp"
#include "catch.hpp"
#include "units/units.hpp"

using namespace rimload;
using nlohmann::json;

namespace {
Case read(const json& document) { return read_case(document.dump(), "case.json", sample_disk()); }
constexpr double degree = 3.14159265358979323846 / 180;
}  // namespace

TEST_CASE("every value of a case is read, in the units inside") {
  const Case in = read(full_case());
  CHECK(in.name == "every key");
  CHECK(in.file == "case.json");
  CHECK(in.face.name == "reference");
  CHECK(in.cushion.name == "test-oronasal");
  CHECK(in.cushion.size == "medium");
  CHECK(in.settings.bilevel);
  CHECK(units::to_cmh2o(in.settings.inspiratory) == Approx(14).epsilon(1e-14));
  CHECK(units::to_cmh2o(in.settings.expiratory) == Approx(6).epsilon(1e-14));
  CHECK(in.settings.inspiratory_fraction == 0.4);
  CHECK(in.settings.oxygen_fraction == 0.5);
  CHECK(in.straps.tension_n == std::vector<double>{3, 3, 4, 5});
  CHECK_FALSE(in.straps.word);
  CHECK(in.posture == Posture::supine);
  CHECK(in.hours_planned == 12);
  CHECK(in.circuit == Circuit::dual_limb);
  CHECK(in.safety.vomiting_likely == false);
  CHECK(in.safety.airway_unprotected == true);
  CHECK(in.safety.altered_mental_state == false);
  CHECK(in.safety.facial_injury_or_surgery == false);
  CHECK(in.safety.cannot_remove_mask == true);
  CHECK(in.safety.implant_near_magnets == false);
  CHECK(in.safety.skin_checked == true);
  CHECK(in.safety.injured_sites ==
        std::vector<SidedSite>{{Site::cheek, Side::left}, {Site::nasal_bridge, Side::midline}});
  CHECK(in.placement.shift_mm == Vec3(1, 2, -3));
  CHECK((in.placement.turn_rad - Vec3(4, 5, 6) * degree).norm() < 1e-15);
  CHECK(in.dressing_rule.bone_depth_below_mm == 6);
  CHECK(in.dressing_rule.hours_at_least == 3);
  CHECK(in.dressing_rule.sensor_above_mmhg == 70);
  CHECK(in.dressing_rule.times_sealing_need == 3);
  CHECK(in.skin.moisture == Moisture::moist);
  CHECK(in.skin.modifiers ==
        std::vector<SkinModifier>{SkinModifier::oedema, SkinModifier::fragile_skin});
  CHECK(in.wear.hours_worn == 2);
  CHECK(in.wear.days == 3);
  CHECK(in.wear.policy_h == 2);
  REQUIRE(in.beard);
  CHECK(in.beard->region == BeardRegion::chin);
  CHECK(in.beard->hair.length_mm == 6);
  CHECK(in.beard->hair.per_mm2 == Approx(0.35));
  REQUIRE(in.tube);
  CHECK(in.tube->kind == TubeKind::orogastric);
  CHECK(in.tube->side == Side::right);
  CHECK(in.tube->diameter_mm() == Approx(14.0 / 3));
  CHECK(in.tube->path_face.size() == 3);
  CHECK(in.dentures == Dentures::in);
  CHECK(in.mouth == MouthOpening::open_at_rest);
  CHECK(in.leak_limit_l_min == 30);
  CHECK(in.leak_target_l_min == 8);
  CHECK(in.sampling.n_stations == 120);
  CHECK(in.sampling.n_across == 5);
  CHECK(in.defaulted.empty());
}

TEST_CASE("every default is filled in and listed by its place") {
  const Case in = read(least_case());
  CHECK(in.straps.word == StrapWord::in_window);
  CHECK(in.posture == Posture::semi_recumbent);
  CHECK(in.hours_planned == 8);
  CHECK(in.leak_limit_l_min == 36);
  CHECK(in.leak_target_l_min == 10);
  CHECK(in.settings.inspiratory == in.settings.expiratory);
  CHECK(in.settings.oxygen_fraction == 0.21);
  CHECK(in.placement.shift_mm == Vec3::Zero());
  CHECK(in.sampling.n_stations * in.sampling.n_across >= 1500);
  std::vector<std::string> defaulted = in.defaulted;
  std::sort(defaulted.begin(), defaulted.end());
  CHECK(defaulted == std::vector<std::string>{"/dressing_rule/bone_depth_below_mm",
                                              "/dressing_rule/hours_at_least",
                                              "/dressing_rule/sensor_above_mmHg",
                                              "/dressing_rule/times_sealing_need",
                                              "/hours_planned",
                                              "/leak_limit_L_min",
                                              "/leak_target_L_min",
                                              "/mouth",
                                              "/placement/push_in_mm",
                                              "/placement/raise_left_deg",
                                              "/placement/shift_left_mm",
                                              "/placement/shift_up_mm",
                                              "/placement/turn_down_deg",
                                              "/placement/turn_left_deg",
                                              "/posture",
                                              "/sampling/across",
                                              "/sampling/stations",
                                              "/settings/oxygen_fraction",
                                              "/skin/days",
                                              "/skin/hours_worn",
                                              "/skin/moisture",
                                              "/straps/setting"});
}

TEST_CASE("defaults that hang on the case follow it") {
  json bilevel = least_case();
  bilevel["settings"] = {{"inspiratory_cmH2O", 12}, {"expiratory_cmH2O", 5}};
  const Case in = read(bilevel);
  CHECK(in.settings.inspiratory_fraction == 0.33);
  CHECK(std::count(in.defaulted.begin(), in.defaulted.end(), "/settings/inspiratory_fraction") ==
        1);
  json nasal = least_case();
  nasal["cushion"]["name"] = "test-nasal";
  CHECK(read(nasal).straps.word == StrapWord::appropriate);
  CHECK(read(nasal).leak_limit_l_min == 24);
}

TEST_CASE("an unanswered safety question stays unanswered") {
  const Case in = read(least_case());
  CHECK_FALSE(in.safety.vomiting_likely.has_value());
  CHECK_FALSE(in.safety.skin_checked.has_value());
  CHECK(in.circuit == Circuit::not_named);
}

TEST_CASE("one tension is for every strap") {
  json document = least_case();
  document["straps"]["tension_N"] = 3.5;
  CHECK(read(document).straps.tension_n == std::vector<double>(4, 3.5));
}

TEST_CASE("paths in a case start from its folder") {
  CHECK(path_beside("a/b/case.json", "../c.json") == "a/b/../c.json");
  CHECK(path_beside("case.json", "c.json") == "c.json");
  CHECK(path_beside("a/case.json", "/c.json") == "/c.json");
}

TEST_CASE("a face file is the same as the model of that file") {
  json document = least_case();
  document["face"] = {{"file", "face.json"}};
  const Case by_file = read(document);
  const Case by_name = read(least_case());
  REQUIRE(by_file.face.landmarks.size() == by_name.face.landmarks.size());
  for (std::size_t k = 0; k < by_file.face.landmarks.size(); ++k) {
    CHECK(by_file.face.landmarks[k].position_face == by_name.face.landmarks[k].position_face);
  }
}

TEST_CASE("the mask of a case has its straps on both sides, as mirror images on a symmetric face") {
  const Case in = read(full_case());
  const Mask mask = make_mask(in);
  REQUIRE(mask.straps.size() == 4);
  const Vec3 mirror(-1, 1, 1);
  const std::vector<std::string> names{"upper_left", "upper_right", "lower_left", "lower_right"};
  for (std::size_t k = 0; k < 4; ++k) CHECK(mask.straps[k].name == names[k]);
  for (std::size_t k = 0; k < 4; k += 2) {
    CHECK(mask.straps[k].side == Side::left);
    CHECK(mask.straps[k + 1].side == Side::right);
    CHECK(mask.straps[k].anchor_mask.x() > 0);
    CHECK(mask.straps[k + 1].anchor_mask == mirror.cwiseProduct(mask.straps[k].anchor_mask));
    CHECK(mask.straps[k + 1].exit_face == mirror.cwiseProduct(mask.straps[k].exit_face));
  }
  // The tragion of the reference face, (70, -20, -82), and 25 mm above it.
  CHECK(mask.straps[0].exit_face == Vec3(70, 5, -82));
  CHECK(mask.rim.n_stations() == 120);
  CHECK(mask.rim.n_across() == 5);
  CHECK(mask.pad.has_value());
  CHECK(mask.hose_pull_n == Vec3(0, -0.4, 0));
  CHECK(mask.apex_below_sellion_mm == 8);
}

TEST_CASE("the demonstration cases are sound") {
  const auto disk = [](const std::string& path) { return project_text(path); };
  for (const std::string name :
       {"first-fit", "nasal-cpap", "tight-straps-small-face", "no-vent-passive-limb",
        "injured-skin", "below-nose-magnets", "measured-wearer"}) {
    const std::string file = "demo/cases/" + name + ".json";
    const Case in = read_case(project_text(file), file, disk);
    CHECK_FALSE(make_mask(in).straps.empty());
    CHECK(project_text(file).find("Invented") != std::string::npos);
  }
}

TEST_CASE("dressings worn are found in the catalogue that the case names") {
  const Case in = read(full_case());
  REQUIRE(in.dressings);
  CHECK(in.dressings->dressings.size() > 4);
  REQUIRE(in.worn.size() == 2);
  CHECK(in.worn[0].site == SidedSite{Site::cheek, Side::right});
  CHECK(in.worn[0].dressing.name == "demo-thin-foam");
  CHECK(in.worn[1].site == SidedSite{Site::chin, Side::midline});
  CHECK(in.safety.acute_failure == true);
  CHECK(in.safety.watched == true);
  CHECK(in.catalogue.size() == 4);
}
