// A supplier's table through the facade, and what is then said of its cushions.
#include "case/sample_files.hpp"
#include "catch.hpp"
#include "job/job.hpp"
#include "stored_face.hpp"

using namespace rimload;
using nlohmann::json;

namespace {

bool holds(const std::string& text, const std::string& words) {
  return text.find(words) != std::string::npos;
}

const CatalogueRequest demonstration{"demo/catalogue/supplier-table.csv",
                                     "demo/catalogue/supplier-columns.json",
                                     "demo/catalogue/demo-cushions.json"};

}  // namespace

TEST_CASE(
    "a supplier's table becomes a catalogue, and every column and assumption is accounted for") {
  const JobOutput out = run_job(demonstration, stored_text);
  REQUIRE(out.end == JobEnd::done);
  CHECK(holds(out.printed, "5 cushions and sizes made"));
  CHECK(holds(out.printed, "Typical oronasal cushion, scaled to the table: demo-oronasal M"));
  CHECK(holds(out.printed, "not used: Colour"));
  CHECK(holds(out.printed, "Assumed of some, travel: Invented-Full-1 Small"));
  CHECK(holds(out.printed, "not a medical device"));
  REQUIRE(out.files.size() == 1);
  CHECK(json::parse(out.files[0].bytes)["about"].get<std::string>().starts_with("Invented"));
  CHECK(run_job(demonstration, stored_text).files[0].bytes == out.files[0].bytes);
}

TEST_CASE("findings name what is assumed of a cushion") {
  const std::string made = run_job(demonstration, stored_text).files.at(0).bytes;
  json input = least_case();
  input["cushion"] = {{"catalogue", "made.json"}, {"name", "Invented-Full-1"}, {"size", "Medium"}};
  const ReadFile disk = sample_disk({{"case.json", input.dump()}, {"made.json", made}});
  const JobOutput fit = run_job(FitRequest{.case_file = "case.json", .pictures = false}, disk);
  REQUIRE(fit.end == JobEnd::done);
  CHECK(holds(fit.printed, "Assumed of this cushion, from a typical cushion: rim depth"));
  const json result = json::parse(fit.files.at(0).bytes);
  CHECK(result["inputs"]["cushion"]["assumed"].at(0) == "rim_depth");
  const JobOutput sizes = run_job(SizesRequest{.case_file = "case.json", .n_draws = 0}, disk);
  REQUIRE(sizes.end == JobEnd::done);
  CHECK(holds(sizes.printed, "Assumed of Invented-Full-1 "));
  CHECK(holds(sizes.files.at(0).bytes, ",\"rim depth, lip width, stiffness"));
}

TEST_CASE("a table at fault is refused with every fault, and a column map is checked by itself") {
  const ReadFile disk = sample_disk(
      {{"t.csv", "Mask;Size\nx;1\n"}, {"map.json", stored_text(demonstration.columns_file)}});
  const JobOutput out = run_job(CatalogueRequest{"t.csv", "map.json", "cushions.json"}, disk);
  CHECK(out.end == JobEnd::input_at_fault);
  CHECK(out.files.empty());
  CHECK(holds(out.complaint, "map.json: /name: the table has no column 'Mask (invented)'"));
  CHECK(holds(out.complaint, "/height/column"));
  const JobOutput checked = run_job(CheckRequest{{"map.json"}}, disk);
  CHECK(checked.end == JobEnd::done);
  CHECK(holds(checked.printed, "map.json: a sound column map, 10 columns"));
}

TEST_CASE("a sizing card is one PDF and a page of SVG for each type, marked where assumed") {
  const std::string made = run_job(demonstration, stored_text).files.at(0).bytes;
  const JobOutput out = run_job(CardRequest{"made.json"}, sample_disk({{"made.json", made}}));
  REQUIRE(out.end == JobEnd::done);
  REQUIRE(out.files.size() == 3);
  CHECK(out.files[0].name == "sizing-card.pdf");
  CHECK(out.files[0].bytes.starts_with("%PDF"));
  CHECK(out.files[1].name == "sizing-card-oronasal.svg");
  CHECK(holds(out.files[1].bytes, "Invented-Full-1 Large*"));
  CHECK(holds(out.files[1].bytes, "dimensions are in part assumed"));
  CHECK(holds(out.printed, "not a medical device"));
}
