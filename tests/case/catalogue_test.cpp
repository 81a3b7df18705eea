// Catalogues: what is read, and what is refused.
#include "case/catalogue.hpp"

#include <cmath>

#include "case/sample_files.hpp"
#include "catch.hpp"

using namespace rimload;
using nlohmann::json;

namespace {
Catalogue sound() { return read_catalogue(test_catalogue().dump(), "cushions.json"); }
json& rim_of(json& catalogue, int cushion, int size) {
  return catalogue["cushions"][static_cast<std::size_t>(cushion)]["sizes"]
                  [static_cast<std::size_t>(size)]["rim"];
}
}  // namespace

TEST_CASE("a catalogue gives every size of every cushion, with what the size overrides") {
  const Catalogue catalogue = sound();
  REQUIRE(catalogue.cushions.size() == 4);
  const Cushion& small = catalogue.cushions[0];
  const Cushion& medium = catalogue.cushions[1];
  const Cushion& large = catalogue.cushions[2];
  const Cushion& nasal = catalogue.cushions[3];
  CHECK(small.size == "small");
  CHECK(small.rim.section.lip_width_mm == 8);
  CHECK(medium.rim.section.lip_width_mm == 9);
  CHECK(small.straps[0].anchor_mask == Vec3(28, 9, 12));
  CHECK(medium.straps[0].anchor_mask == Vec3(30, 10, 12));
  CHECK(small.pad->centre_mask == Vec3(0, 40, 8));
  CHECK(large.masses.at(0).mass_kg == 0.1);
  CHECK(medium.masses.at(0).mass_kg == 0.09);
  CHECK(medium.lip.stiffness_n_mm3 == Approx(1e-3).epsilon(1e-14));
  CHECK(medium.lip.bottomed_stiffness_n_mm3 == Approx(15e-3).epsilon(1e-14));
  CHECK(medium.pad->lean_rad == Approx(-10 * 3.14159265358979323846 / 180).epsilon(1e-14));
  CHECK(medium.straps[0].bearings.at(1).site == Site::ear_top);
  CHECK(nasal.type == CushionType::nasal);
  CHECK_FALSE(nasal.vented);
  CHECK(nasal.magnets);
  CHECK_FALSE(nasal.pad);
}

TEST_CASE("the right half of a rim is the mirror image of the left") {
  const std::vector<RimControl> controls = sound().cushions[1].rim.controls;
  const std::size_t n = controls.size();
  REQUIRE(n == 14);  // 8 points of the half, 6 of them off the midline
  for (std::size_t k = 1; k < n / 2; ++k) {
    const Vec3 mirror(-1, 1, 1);
    CHECK(controls[n - k].position_mask == mirror.cwiseProduct(controls[k].position_mask));
    CHECK(controls[n - k].axis_mask == mirror.cwiseProduct(controls[k].axis_mask));
    CHECK(controls[k].axis_mask.norm() == Approx(1).epsilon(1e-14));
  }
}

TEST_CASE("a rim that is out of order, off the midline or turned inwards is refused at its point") {
  struct BadRim {
    std::size_t point;
    const char* key;
    std::vector<double> value;
    std::size_t named;  ///< the point that the fault names
    const char* words;
  };
  for (const auto& [point, key, value, named, words] : std::vector<BadRim>{
           {0, "at_mm", {0, 1, 0}, 0, "the origin of the mask frame"},
           {7, "at_mm", {3, -84, -2}, 7, "lie on the midline"},
           {7, "at_mm", {0, -15, -2}, 7, "only 15 mm below the apex; at least 20 mm needed"},
           {3, "at_mm", {-29, -37, -11}, 3, "to the wearer's left"},
           {3, "at_mm", {30, -60, -11}, 4, "in order from the apex"},
           {2, "at_mm", {9.5, -6.5, -4}, 2, "0.71 mm from the point before; at least 2 mm"},
           {4, "axis", {0, 0, 0}, 4, "does not point out of the face"},
           {4, "axis", {0.1, 0, -1}, 4, "does not point out of the face"},
           {0, "axis", {0.2, 0, 1}, 0, "on the midline the axis has x = 0"}}) {
    json catalogue = test_catalogue();
    rim_of(catalogue, 0, 1)[point][key] = value;
    const auto faults = catalogue_faults(catalogue);
    INFO(listed(faults));
    CHECK(names(faults, "/cushions/0/sizes/1/rim/" + std::to_string(named), words));
  }
}

TEST_CASE(
    "a rim that bends more sharply than its lip can follow is refused, as a gentler one is not") {
  // A circle of 30 mm radius in the plane, apex at the top.
  json catalogue = test_catalogue();
  json circle = json::array();
  for (int k = 0; k <= 8; ++k) {
    const double angle = k * 3.14159265358979323846 / 8;
    const bool on_midline = k == 0 || k == 8;
    circle.push_back(
        {{"at_mm", {on_midline ? 0 : 30 * std::sin(angle), 30 * std::cos(angle) - 30, 0}},
         {"axis", {0, 0, 1}}});
  }
  catalogue["cushions"].erase(1);
  json& cushion = catalogue["cushions"][0];
  cushion["sizes"] = json::array({cushion["sizes"][1]});
  cushion["sizes"][0]["rim"] = circle;
  cushion["lip"]["width_mm"] = 25;
  CHECK(listed(catalogue_faults(catalogue)).empty());
  for (json& point : circle) {
    for (json& each : point["at_mm"])
      each = each.get<double>() * 0.4;  // radius 12 mm, half width 12.5
  }
  cushion["sizes"][0]["rim"] = circle;
  const auto faults = catalogue_faults(catalogue);
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].path.find("/cushions/0/sizes/0/rim/") == 0);
  CHECK(faults[0].message.find("below half the lip's width, 12.5 mm") != std::string::npos);
}

TEST_CASE("names are unique and spelled in letters that a command line can hold") {
  json catalogue = test_catalogue();
  catalogue["cushions"][1]["name"] = "test-oronasal";
  catalogue["cushions"][0]["sizes"][1]["size"] = "small";
  catalogue["cushions"][0]["straps"][1]["name"] = "upper";
  catalogue["cushions"][0]["sizes"][2]["size"] = "very large";
  const auto faults = catalogue_faults(catalogue);
  INFO(listed(faults));
  CHECK(names(faults, "/cushions/1/name", "'test-oronasal' is given twice"));
  CHECK(names(faults, "/cushions/0/sizes/1/size", "'small' is given twice"));
  CHECK(names(faults, "/cushions/0/straps/1/name", "'upper' is given twice"));
  CHECK(names(faults, "/cushions/0/sizes/2/size", "letters"));
}

TEST_CASE("a bottomed lip is no softer than before, in a size's own values too") {
  json catalogue = test_catalogue();
  catalogue["cushions"][0]["lip"]["bottomed_stiffness_kPa_per_mm"] = 0.5;
  CHECK(names(catalogue_faults(catalogue), "/cushions/0/lip/bottomed_stiffness_kPa_per_mm",
              "0.5 kPa/mm is below the stiffness before bottoming out, 1 kPa/mm"));
  catalogue = test_catalogue();
  catalogue["cushions"][0]["sizes"][0]["lip"]["stiffness_kPa_per_mm"] = 16;
  CHECK(names(catalogue_faults(catalogue), "/cushions/0/sizes/0/lip/bottomed_stiffness_kPa_per_mm",
              "below the stiffness"));
}

TEST_CASE("straps press strap sites only, and anchors are given for straps that exist") {
  json catalogue = test_catalogue();
  catalogue["cushions"][0]["straps"][0]["bears_on"][0]["site"] = "nasal_bridge";
  catalogue["cushions"][0]["sizes"][0]["strap_anchors_mm"] = {{"uper", {1, 2, 3}}};
  catalogue["cushions"][0]["straps"][1]["anchor_mm"] = {-34, -60, 4};
  catalogue["cushions"][1]["sizes"][0]["pad_centre_mm"] = {0, 40, 8};
  const auto faults = catalogue_faults(catalogue);
  INFO(listed(faults));
  CHECK(names(faults, "/cushions/0/straps/0/bears_on/0/site", "one of ear_top, occiput"));
  CHECK(names(faults, "/cushions/0/sizes/0/strap_anchors_mm/uper", "nearest valid name: 'upper'"));
  CHECK(names(faults, "/cushions/0/straps/1/anchor_mm", "on the wearer's left"));
  CHECK(names(faults, "/cushions/1/sizes/0/pad_centre_mm", "no forehead_pad"));
}

TEST_CASE("a list of the wrong length says how many belong there") {
  json catalogue = test_catalogue();
  catalogue["cushions"][0]["hose"]["pull_N"] = {0, 1};
  CHECK(names(catalogue_faults(catalogue), "/cushions/0/hose/pull_N",
              "2 entries; allowed: exactly 3"));
}

TEST_CASE("the demonstration catalogue is sound and says that it is invented") {
  const Catalogue catalogue =
      read_catalogue(project_text("demo/catalogue/demo-cushions.json"), "demo");
  CHECK(catalogue.about.find("Invented") != std::string::npos);
  for (const CushionType type : {CushionType::nasal, CushionType::oronasal}) {
    CHECK(std::count_if(catalogue.cushions.begin(), catalogue.cushions.end(),
                        [&](const Cushion& each) { return each.type == type; }) >= 3);
  }
}
