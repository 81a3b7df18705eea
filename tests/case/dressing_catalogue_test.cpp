// Catalogues of dressings: what is read, and what is refused.
#include "case/dressing_catalogue.hpp"

#include <array>

#include "case/sample_files.hpp"
#include "catch.hpp"
#include "units/units.hpp"

using namespace rimload;
using nlohmann::json;

namespace {

/// Two sound dressings that give every key between them.
json test_dressings() {
  return json::parse(R"({
    "rimload_dressings": 1, "about": "Invented for the tests.", "currency": "EUR",
    "dressings": [
      {"name": "gel", "kind": "hydrogel", "thickness_mm": 3, "modulus_dry_kPa": 30,
       "modulus_moist_kPa": 20, "poisson": 0.25, "friction_on_cushion": 0.5,
       "friction_on_skin": 0.6, "cut_to_size": true, "wear_h": 24,
       "sizes": [{"length_mm": 100, "width_mm": 50, "cost": 5.5},
                 {"length_mm": 50, "width_mm": 50}]},
      {"name": "foam-1", "about": "Thin.", "kind": "foam", "thickness_mm": 2,
       "modulus_dry_kPa": 40, "modulus_moist_kPa": 30, "shear_modulus_dry_kPa": 10,
       "friction_on_cushion": 0.4, "friction_on_skin": 0.7, "sticks_to_skin": true,
       "cut_to_size": false, "wear_h": 72, "sizes": [{"length_mm": 75, "width_mm": 75}],
       "recalled_range": {"thickness_mm": [2, 5], "modulus_kPa": [20, 100],
                          "source": "recalled", "status": "from memory"}}
    ]})");
}

std::vector<Fault> dressing_faults(const json& document) {
  return faults_of([&] { (void)read_dressings(document.dump(), "dressings.json"); });
}

}  // namespace

TEST_CASE("a catalogue of dressings is read into the units of the program") {
  const DressingCatalogue catalogue = read_dressings(test_dressings().dump(), "dressings.json");
  CHECK(catalogue.currency == "EUR");
  REQUIRE(catalogue.dressings.size() == 2);
  const Dressing& gel = catalogue.dressings[0];
  CHECK(gel.kind == DressingKind::hydrogel);
  CHECK(gel.thickness_mm == 3);
  CHECK(gel.dry.compressive == Approx(30e-3).epsilon(1e-14));
  // G = E/(2 (1 + nu)) of an isotropic solid.
  CHECK(gel.dry.shear == Approx(12e-3).epsilon(1e-14));
  CHECK(gel.moist.shear == Approx(8e-3).epsilon(1e-14));
  CHECK_FALSE(gel.sticks_to_skin);
  REQUIRE(gel.sizes.size() == 2);
  CHECK(gel.sizes[0].length_mm == 100);
  CHECK(gel.sizes[0].cost == 5.5);
  CHECK_FALSE(gel.sizes[1].cost);
  CHECK(gel.cut_to_size);
  CHECK(gel.wear_h == 24);
  const Dressing& foam = catalogue.dressings[1];
  CHECK_FALSE(foam.poisson);
  CHECK(foam.dry.shear == Approx(10e-3).epsilon(1e-14));
  CHECK(foam.moist.compressive == Approx(30e-3).epsilon(1e-14));
  // Moist it changes as the modulus in compression does: 10 kPa times 30/40.
  CHECK(foam.moist.shear == Approx(7.5e-3).epsilon(1e-14));
  CHECK(foam.sticks_to_skin);
  CHECK(foam.friction_on_cushion == 0.4);
  CHECK(foam.friction_on_skin == 0.7);
}

TEST_CASE("every fault of a catalogue of dressings is listed at once, each at its place") {
  json bad = test_dressings();
  bad.erase("currency");
  json& gel = bad["dressings"][0];
  json& foam = bad["dressings"][1];
  gel["kind"] = "hydrogell";
  gel["thickness_mm"] = 30;
  gel["modulus_dry_kPa"] = "soft";
  gel.erase("poisson");
  gel["wear_h"] = 0;
  gel["sizes"][1]["length_mm"] = 40;
  gel["colour"] = "blue";
  foam["name"] = "gel";
  foam["poisson"] = 0.3;
  foam["shear_modulus_dry_kPa"] = 41;
  foam["friction_on_skin"] = -0.1;
  foam["sizes"].push_back(foam["sizes"][0]);
  foam["recalled_range"]["thickness_mm"] = {5, 2};
  const auto faults = dressing_faults(bad);
  INFO(listed(faults));
  CHECK(names(faults, "/dressings/0/kind", "nearest valid name: 'hydrogel'"));
  CHECK(
      names(faults, "/dressings/0/thickness_mm", "30 mm is out of range; allowed: 0.01 to 20 mm"));
  CHECK(names(faults, "/dressings/0/modulus_dry_kPa", "a number, 0.5 to 1000000 kPa"));
  CHECK(names(faults, "/dressings/0/poisson", "missing"));
  CHECK(names(faults, "/dressings/0/wear_h", "0 h is out of range; allowed: 0.5 to 336 h"));
  CHECK(names(faults, "/dressings/0/sizes/0/cost", "currency"));
  CHECK(names(faults, "/dressings/0/sizes/1/width_mm", "50 mm is above length_mm, 40 mm"));
  CHECK(names(faults, "/dressings/0/colour", "unknown key"));
  CHECK(names(faults, "/dressings/1/name", "'gel' is given twice"));
  CHECK(names(faults, "/dressings/1/poisson", "one of the two"));
  CHECK(names(faults, "/dressings/1/shear_modulus_dry_kPa",
              "41 kPa is above modulus_dry_kPa, 40 kPa"));
  CHECK(names(faults, "/dressings/1/friction_on_skin", "out of range; allowed: 0.02 to 6"));
  CHECK(names(faults, "/dressings/1/sizes/1", "75 mm x 75 mm is given twice"));
  CHECK(names(faults, "/dressings/1/recalled_range/thickness_mm", "5 to 2 mm runs downwards"));
  CHECK(faults.size() == 14);
  for (const Fault& fault : faults) CHECK(fault.file == "dressings.json");
}

TEST_CASE("a dressing without one of its keys is refused by that key") {
  for (const char* key :
       {"name", "kind", "thickness_mm", "modulus_dry_kPa", "modulus_moist_kPa",
        "friction_on_cushion", "friction_on_skin", "sizes", "cut_to_size", "wear_h"}) {
    json bad = test_dressings();
    bad["dressings"][0].erase(key);
    const auto faults = dressing_faults(bad);
    CAPTURE(key, listed(faults));
    CHECK(names(faults, std::string("/dressings/0/") + key, "missing; needed: "));
    CHECK(faults.size() == 1);
  }
}

TEST_CASE("a catalogue of dressings with any value of a wrong type or size is refused or sound") {
  const json document = test_dressings();
  const std::array<json, 11> values{nullptr,
                                    true,
                                    "",
                                    "x",
                                    0,
                                    -1,
                                    1e300,
                                    0.5,
                                    json::array(),
                                    json::object(),
                                    json::array({1, 2, 3})};
  int refused = 0;
  int sound = 0;
  const json flat = document.flatten();
  for (const auto& [path, unused] : flat.items()) {
    for (json::json_pointer at(path); !at.empty(); at = at.parent_pointer()) {
      for (const json& value : values) {
        json mutant = document;
        mutant[at] = value;
        const auto faults = dressing_faults(mutant);
        refused += faults.empty() ? 0 : 1;
        sound += faults.empty() ? 1 : 0;
        for (const Fault& fault : faults) {
          // The validator's own words begin with a capital; ours never do.
          INFO(at.to_string() << " " << value.dump() << ": " << describe(fault));
          REQUIRE_FALSE(fault.message.empty());
          const bool capital = fault.message[0] >= 'A' && fault.message[0] <= 'Z';
          REQUIRE_FALSE(capital);
        }
      }
    }
  }
  CHECK(refused > 700);
  CHECK(sound > 20);
}

TEST_CASE("a dressing asked for by a name that isn't there gets the nearest one") {
  const DressingCatalogue catalogue = read_dressings(test_dressings().dump(), "dressings.json");
  CHECK(dressing_named(catalogue, "foam-1", "case.json", "/dressing").thickness_mm == 2);
  const auto faults =
      faults_of([&] { (void)dressing_named(catalogue, "foam1", "case.json", "/dressing/name"); });
  CHECK(names(faults, "/dressing/name", "'foam1'; nearest valid name: 'foam-1'"));
}

TEST_CASE("the demonstration's dressings are sound, invented, of every kind, and in their ranges") {
  const std::string text = project_text("demo/catalogue/demo-dressings.json");
  const DressingCatalogue catalogue = read_dressings(text, "demo-dressings.json");
  CHECK(catalogue.about.find("Invented") != std::string::npos);
  for (const DressingKind kind :
       {DressingKind::hydrocolloid, DressingKind::foam, DressingKind::hydrogel, DressingKind::film,
        DressingKind::barrier_film}) {
    CAPTURE(words_for(kind));
    CHECK(std::any_of(catalogue.dressings.begin(), catalogue.dressings.end(),
                      [&](const Dressing& each) { return each.kind == kind; }));
  }
  int n_ranges = 0;
  const json document = json::parse(text);
  for (const json& row : document["dressings"]) {
    CAPTURE(row["name"]);
    CHECK(row["about"].get<std::string>().find("Invented") == 0);
    if (!row.contains("recalled_range")) continue;
    ++n_ranges;
    const json& range = row["recalled_range"];
    CHECK(range["status"].get<std::string>() == "from memory");
    for (const char* key : {"modulus_dry_kPa", "modulus_moist_kPa"}) {
      CHECK(row[key].get<double>() >= range["modulus_kPa"][0].get<double>());
      CHECK(row[key].get<double>() <= range["modulus_kPa"][1].get<double>());
    }
    CHECK(row["thickness_mm"].get<double>() >= range["thickness_mm"][0].get<double>());
    CHECK(row["thickness_mm"].get<double>() <= range["thickness_mm"][1].get<double>());
  }
  CHECK(n_ranges >= 3);
}
