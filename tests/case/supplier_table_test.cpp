// Catalogues made of a supplier's table: rims come back, units and marks are kept apart, every
// fault is named.
#include "case/supplier_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "case/sample_files.hpp"
#include "case/scaled_cushion.hpp"
#include "case/write_catalogue.hpp"
#include "catch.hpp"

using namespace rimload;
using nlohmann::json;

namespace {

std::string demo_text() { return project_text("demo/catalogue/demo-cushions.json"); }
const Catalogue& demo() {
  static const Catalogue catalogue = read_catalogue(demo_text(), "demo-cushions.json");
  return catalogue;
}

json plain_map() {
  return json::parse(R"({
    "rimload_columns": 1, "name": "Name", "size": "Size",
    "type": {"column": "Type", "means": {"n": "nasal", "o": "oronasal", "b": "below_nose_oronasal",
                                         "t": "total_face"}},
    "vented": {"always": true}, "magnets": {"column": "Magnets", "means": {"y": true, "n": false}},
    "height": {"column": "Height", "unit": "mm", "edge": "inner"},
    "widths": [{"column": "Nose", "unit": "mm", "edge": "inner", "at": "nose"}]})");
}

ImportedCushions imported(const std::string& table, const json& map = plain_map()) {
  const std::string columns = map.dump();
  const std::string like = demo_text();
  return import_cushions({.table = {"table.csv", table},
                          .columns = {"map.json", columns},
                          .like = {"demo.json", like}});
}

std::vector<Fault> table_faults(const std::string& table, const json& map = plain_map()) {
  return faults_of([&] { (void)imported(table, map); });
}

const std::string header = "Name,Size,Type,Magnets,Height,Nose\n";

const Cushion& named(const Catalogue& catalogue, const std::string& name, const std::string& size) {
  const auto found =
      std::find_if(catalogue.cushions.begin(), catalogue.cushions.end(),
                   [&](const Cushion& each) { return each.name == name && each.size == size; });
  REQUIRE(found != catalogue.cushions.end());
  return *found;
}

// The demonstration's cushions measured as a supplier would, in columns of his.
std::string table_of_demo(bool with_depth) {
  std::string out = "Name;Size;Type;Height in;Nose cm;Mouth mm;Depth mm\n";
  for (const Cushion& cushion : demo().cushions) {
    if (cushion.type != CushionType::oronasal) continue;
    const RimOutline inner(cushion.rim, RimEdge::inner);
    const RimOutline outer(cushion.rim, RimEdge::outer);
    // Levels move with the height of the middle size that is scaled.
    const Cushion& middle = named(demo(), "demo-oronasal", "M");
    const double rise = RimOutline(cushion.rim, RimEdge::crown).height_mm() /
                        RimOutline(middle.rim, RimEdge::crown).height_mm();
    const FaceModel face = design_face_of(middle);
    const double nose = outer.width_mm(rise * level_mm(WidthLevel::nose, middle, face)).value();
    const double mouth = inner.width_mm(rise * level_mm(WidthLevel::mouth, middle, face)).value();
    const std::string depth =
        with_depth ? fmt::format("{}", RimOutline(cushion.rim, RimEdge::crown).depth_mm()) : "";
    out += fmt::format("{};{};o;{};{};{};{}\n", cushion.name, cushion.size,
                       inner.height_mm() / 25.4, nose / 10, mouth, depth);
  }
  return out;
}

json map_of_demo() {
  json map = plain_map();
  map["magnets"] = {{"always", false}};
  map["height"] = {{"column", "Height in"}, {"unit", "in"}, {"edge", "inner"}};
  map["widths"] = json::parse(R"([
    {"column": "Mouth mm", "unit": "mm", "edge": "inner", "at": "mouth"},
    {"column": "Nose cm", "unit": "cm", "edge": "outer", "at": "nose"}])");
  map["rim_depth"] = {{"column", "Depth mm"}, {"unit", "mm"}};
  map["typical"] = {{"oronasal", "demo-oronasal"}};
  return map;
}

// The largest distance between points of two rims that correspond, in the front view and along z.
struct RimDistance {
  double front_mm = 0;
  double depth_mm = 0;
};
RimDistance between(const Cushion& a, const Cushion& b) {
  RimDistance out;
  REQUIRE(a.rim.controls.size() == b.rim.controls.size());
  for (std::size_t k = 0; k < a.rim.controls.size(); ++k) {
    const Vec3 apart = a.rim.controls[k].position_mask - b.rim.controls[k].position_mask;
    out.front_mm = std::max(out.front_mm, apart.head<2>().norm());
    out.depth_mm = std::max(out.depth_mm, std::abs(apart.z()));
  }
  return out;
}

}  // namespace

TEST_CASE("a cushion's own dimensions give the same cushion back") {
  for (const Cushion& cushion : demo().cushions) {
    CAPTURE(cushion.name, cushion.size);
    for (const RimEdge edge : {RimEdge::inner, RimEdge::crown, RimEdge::outer}) {
      const RimOutline outline(cushion.rim, edge);
      const ScaledCushion same =
          scaled_to(cushion, {.height = GivenHeight{outline.height_mm(), edge},
                              .widths = {{outline.widest_mm(), edge, WidestPlace{}}},
                              .rim_depth_mm = RimOutline(cushion.rim, RimEdge::crown).depth_mm(),
                              .lip_width_mm = cushion.rim.section.lip_width_mm,
                              .stiffness_n_mm3 = cushion.lip.stiffness_n_mm3,
                              .travel_mm = cushion.lip.travel_mm});
      REQUIRE(same.faults.empty());
      const RimDistance apart = between(same.cushion, cushion);
      // Nothing is lacking at the first look, so every factor stays 1.
      CHECK(apart.front_mm < 1e-9);
      CHECK(apart.depth_mm < 1e-9);
      CHECK(same.cushion.lip.bottomed_stiffness_n_mm3 ==
            Approx(cushion.lip.bottomed_stiffness_n_mm3).epsilon(1e-12));
      CHECK(same.cushion.straps[0].anchor_mask == cushion.straps[0].anchor_mask);
    }
  }
}

TEST_CASE("a rim scaled to lengths has these lengths, between which x goes in straight lines") {
  const Cushion& middle = named(demo(), "demo-oronasal", "M");
  const CushionDimensions given{
      .height = GivenHeight{78, RimEdge::inner},
      .widths = {{58, RimEdge::outer, WidthLevel::nose}, {61, RimEdge::inner, WidthLevel::mouth}},
      .rim_depth_mm = 20};
  const ScaledCushion scaled = scaled_to(middle, given);
  REQUIRE(scaled.faults.empty());
  const RimOutline inner(scaled.cushion.rim, RimEdge::inner);
  const RimOutline outer(scaled.cushion.rim, RimEdge::outer);
  const FaceModel face = design_face_of(middle);
  CHECK(inner.height_mm() == Approx(78).margin(0.006));  // the tolerance of the search is 0.005
  CHECK(*outer.width_mm(level_mm(WidthLevel::nose, scaled.cushion, face)) ==
        Approx(58).margin(0.006));
  CHECK(*inner.width_mm(level_mm(WidthLevel::mouth, scaled.cushion, face)) ==
        Approx(61).margin(0.006));
  CHECK(RimOutline(scaled.cushion.rim, RimEdge::crown).depth_mm() == Approx(20).margin(0.006));
  CHECK(scaled.cushion.is_assumed(CushionField::stiffness));
  CHECK_FALSE(scaled.cushion.is_assumed(CushionField::width));
}

TEST_CASE("a table of the demonstration's own cushions gives their rims back") {
  for (const bool with_depth : {true, false}) {
    const ImportedCushions out = imported(table_of_demo(with_depth), map_of_demo());
    CHECK(out.typical.at(CushionType::oronasal) == "demo-oronasal M");
    for (const std::string size : {"S", "M", "L"}) {
      CAPTURE(size, with_depth);
      const RimDistance apart = between(named(out.catalogue, "demo-oronasal", size),
                                        named(demo(), "demo-oronasal", size));
      // Measured: 0.04 mm, what straight lines between stations and between the levels leave; along
      // z 0.7 mm, since the small and the large were moulded to faces of their own.
      CHECK(apart.front_mm < 0.05);
      CHECK(apart.depth_mm < 1);
      const Cushion& made = named(out.catalogue, "demo-oronasal", size);
      CHECK(made.is_assumed(CushionField::rim_depth) == !with_depth);
    }
    const RimDistance other = between(named(out.catalogue, "demo-oronasal-gel", "M"),
                                      named(demo(), "demo-oronasal-gel", "M"));
    // Another cushion of the type: the outline between the given lengths is the typical one's.
    CHECK(other.front_mm < 2.5);
    CHECK(other.front_mm > 0.1);
  }
}

TEST_CASE("a length in mm, in cm and in inches makes the same rim") {
  const auto rim_in = [](const char* unit, const char* height, const char* nose) {
    json map = plain_map();
    map["height"]["unit"] = unit;
    map["widths"][0]["unit"] = unit;
    return imported(header + "a,M,o,n," + height + "," + nose + "\n", map).catalogue.cushions[0];
  };
  const Cushion in_mm = rim_in("mm", "76.2", "50.8");
  for (const Cushion& other : {rim_in("cm", "7.62", "5.08"), rim_in("in", "3", "2")}) {
    CHECK(between(in_mm, other).front_mm < 1e-9);
  }
}

TEST_CASE("a byte order mark, any line end, semicolons and decimal commas, and quotes are read") {
  const std::string plain = header + "a \"b\",M,o,n,76.5,45.5\nc,M,o,n,76,45\n";
  json with_commas = plain_map();
  with_commas["decimal_mark"] = ",";
  const ImportedCushions expected = imported(plain);
  CHECK(expected.renamed == std::vector<std::pair<std::string, std::string>>{{"a \"b\"", "a-b"}});
  for (const auto& [table, map] : std::vector<std::pair<std::string, json>>{
           {"\xEF\xBB\xBFName,Size,Type,Magnets,Height,Nose\r\n\"a \"\"b\"\"\",M,o,n,76.5,45.5\r\n"
            "\r\nc,M,o,n, 76 ,45\r\n",
            plain_map()},
           {"Name;Size;Type;Magnets;Height;Nose\ra \"b\";M;o;n;76,5;45,5\rc;M;o;n;76;45",
            with_commas},
           {"Name,Size,Type,Magnets,Height,Nose\na \"b\",M,o,n,\"76,5\",\"45,5\"\nc,M,o,n,76,45\n",
            with_commas},
           {"Name\tSize\tType\tMagnets\tHeight\tNose\na \"b\"\tM\to\tn\t76.5\t45.5\nc\tM\to\tn\t76"
            "\t45\n",
            plain_map()}}) {
    CAPTURE(table);
    const ImportedCushions out = imported(table, map);
    CHECK(write_catalogue(out.catalogue) == write_catalogue(expected.catalogue));
  }
}

TEST_CASE("every fault of a table is named at once, with line, column, value and what is allowed") {
  struct Fixture {
    const char* line;
    const char* place;
    const char* words;
  };
  const std::vector<Fixture> fixtures{
      {"a,M,o,n,76.5", "line 2", "5 fields where the header has 6"},
      {",M,o,n,76,45", "line 3, column 'Name'", "is empty, and can't be assumed"},
      {"b,M,x,n,76,45", "line 4, column 'Type'", "'x' has no meaning in the column map"},
      {"c,M,o,,76,45", "line 5, column 'Magnets'", "is empty"},
      {"d,M,o,n,76 mm,45", "line 6, column 'Height'", "'76 mm' is not a number"},
      {"e,M,o,n,\"76,5\",45", "line 7, column 'Height'", "say \"decimal_mark\": \",\""},
      {"f,M,o,n,7.6,45", "line 8, column 'Height'", "ten times it would do: is the unit right?"},
      {"g,M,o,n,76,-3", "line 9, column 'Nose'", "allowed: above 0"},
      {"h,M,o,n,,", "line 10", "neither a height nor a width"},
      {"i,M,o,n,76,45", "", ""},
      {"i,M,o,n,77,45", "line 12, column 'Size'", "'M' of 'i' is in line 11 already"},
      {"i,L,o,y,79,47", "line 13, column 'Name'", "sizes of one cushion share these"},
      {"i.,L,o,n,79,47", "line 14, column 'Name'", "'i.' and 'i' both become 'i'"},
      {"j,\"M\"x,o,n,76,45", "line 15", "'x' follows a closing quote"},
      {"k,\"M,o,n,76,45", "line 16", "the quote opened in line 16 is never closed"}};
  std::string table = header;
  for (const Fixture& each : fixtures) table += std::string(each.line) + "\n";
  const std::vector<Fault> faults = table_faults(table);
  INFO(listed(faults));
  CHECK(faults.size() == fixtures.size() - 1);
  for (const Fixture& each : fixtures) {
    if (*each.place == '\0') continue;
    CAPTURE(each.line);
    CHECK(std::any_of(faults.begin(), faults.end(), [&](const Fault& fault) {
      return fault.file == "table.csv" && fault.path == each.place &&
             fault.message.find(each.words) != std::string::npos;
    }));
  }
}

TEST_CASE("a table that is no text in UTF-8, has no columns or no rows is refused") {
  CHECK(names(table_faults("\xFF\xFEN\0"), "line 1", "UTF-16"));
  CHECK(names(table_faults(header + "caf\xE9,M,o,n,76,45\n"), "line 2", "not UTF-8"));
  CHECK(names(table_faults("Name\n"), "line 1", "no comma, semicolon or tab"));
  CHECK(names(table_faults("Name;Size,Type\n"), "line 1", "say which separates columns"));
  CHECK(names(table_faults(header), "", "no row"));
  CHECK(names(table_faults(""), "line 1", "no comma"));
}

TEST_CASE(
    "a column that the map names and the table lacks is a fault, one it has unnamed is said") {
  json map = plain_map();
  map["travel"] = {{"column", "Travl"}, {"unit", "mm"}};
  const std::string table = "Name,Size,Type,Magnets,Height,Nose,Travel,\na,M,o,n,76,45,3,x\n";
  CHECK(names(table_faults(table, map), "/travel/column", "nearest valid name: 'Travel'"));
  CHECK(imported(table).unused_columns ==
        std::vector<std::string>{"Travel", "column 8, which has no header"});
  map["travel"]["column"] = "Travel";
  const ImportedCushions out = imported(table, map);
  CHECK(out.unused_columns.size() == 1);
  CHECK(out.catalogue.cushions[0].lip.travel_mm == 3);
  CHECK_FALSE(out.catalogue.cushions[0].is_assumed(CushionField::travel));
  CHECK(out.catalogue.cushions[0].is_assumed(CushionField::stiffness));
}

TEST_CASE("an empty cell is assumed in its row alone") {
  json map = plain_map();
  map["stiffness"] = {{"column", "kPa"}, {"unit", "kPa/mm"}};
  const ImportedCushions out =
      imported("Name,Size,Type,Magnets,Height,Nose,kPa\na,S,o,n,72,,1.8\na,M,o,n,76,45,\n", map);
  const Cushion& small = named(out.catalogue, "a", "S");
  const Cushion& middle = named(out.catalogue, "a", "M");
  CHECK(small.is_assumed(CushionField::width));
  CHECK_FALSE(small.is_assumed(CushionField::stiffness));
  CHECK(small.lip.stiffness_n_mm3 == Approx(1.8e-3).epsilon(1e-12));
  CHECK(middle.is_assumed(CushionField::stiffness));
  CHECK_FALSE(middle.is_assumed(CushionField::width));
}

TEST_CASE("a made catalogue reads back as it was made, marks included") {
  const ImportedCushions out = imported(header + "a,M,o,n,76,45\nb,W,n,y,36,34\na,L,o,n,80,47\n");
  REQUIRE(out.catalogue.cushions.size() == 3);
  const std::string text = write_catalogue(out.catalogue);
  const Catalogue read = read_catalogue(text, "made.json");
  REQUIRE(read.cushions.size() == 3);
  for (std::size_t k = 0; k < 3; ++k) {
    const Cushion& a = out.catalogue.cushions[k];
    const Cushion& b = read.cushions[k];
    CHECK(a.name == b.name);
    CHECK(a.size == b.size);
    CHECK(a.type == b.type);
    CHECK(a.magnets == b.magnets);
    CHECK(a.assumed == b.assumed);
    // Lengths are rounded to 1e-4 mm.
    CHECK(between(a, b).front_mm < 1e-4);
    CHECK(a.lip.bottomed_stiffness_n_mm3 == Approx(b.lip.bottomed_stiffness_n_mm3).epsilon(1e-8));
  }
  CHECK(write_catalogue(read) == text);
  for (const Cushion& cushion : demo().cushions) CHECK(cushion.assumed.empty());
}

TEST_CASE("a column map at fault is refused at its keys") {
  json map = plain_map();
  map.erase("height");
  map.erase("widths");
  map["vented"] = json::object();
  map["type"].erase("means");
  map["decimal_mark"] = ",";
  map["separator"] = ",";
  map["typical"] = {{"nasel", "x"}};
  const std::vector<Fault> faults = table_faults(header, map);
  INFO(listed(faults));
  CHECK(names(faults, "/height", "height, widths or both"));
  CHECK(names(faults, "/vented", "either column, with means, or always"));
  CHECK(names(faults, "/type/means", "missing"));
  CHECK(names(faults, "/decimal_mark", "the same as the separator"));
  CHECK(names(faults, "/typical/nasel", "nearest valid name: 'nasal'"));
  json twice = plain_map();
  twice["widths"][0]["column"] = "Height";
  CHECK(names(table_faults(header, twice), "/widths/0/column", "holds another length already"));
  json unknown = plain_map();
  unknown["typical"] = {{"oronasal", "demo-nasal"}};
  CHECK(names(table_faults(header, unknown), "/typical/oronasal",
              "no oronasal cushion 'demo-nasal'"));
}

TEST_CASE("the demonstration's table makes a sound catalogue") {
  const std::string table = project_text("demo/catalogue/supplier-table.csv");
  const std::string columns = project_text("demo/catalogue/supplier-columns.json");
  const ImportedCushions out = imported(table, json::parse(columns));
  CHECK(out.catalogue.about.find("Invented for demonstration") != std::string::npos);
  CHECK(read_catalogue(write_catalogue(out.catalogue), "made.json").cushions.size() == 5);
  CHECK(out.unused_columns == std::vector<std::string>{"Colour"});
}
