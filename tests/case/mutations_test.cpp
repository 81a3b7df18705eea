// Valid files, broken in every way that can be listed: always an InputError or a sound result.
#include <functional>
#include <set>

#include "case/mask_of_case.hpp"
#include "case/sample_files.hpp"
#include "catch.hpp"

using namespace rimload;
using nlohmann::json;

namespace {

/// Pointers to every value of a document, objects and arrays too.
std::vector<json::json_pointer> all_places(const json& document) {
  std::vector<json::json_pointer> out;
  const json flat = document.flatten();
  std::set<std::string> seen;
  for (const auto& [path, unused] : flat.items()) {
    for (json::json_pointer at(path); !at.empty(); at = at.parent_pointer()) {
      if (seen.insert(at.to_string()).second) out.push_back(at);
    }
  }
  return out;
}

const std::vector<json>& replacements() {
  static const std::vector<json> values{nullptr,
                                        true,
                                        "",
                                        "x",
                                        std::string(5000, 'a'),
                                        0,
                                        -1,
                                        1,
                                        7,
                                        1e-300,
                                        1e300,
                                        -1e300,
                                        0.5,
                                        18446744073709551615ULL,
                                        -9223372036854775807LL,
                                        json::array(),
                                        json::object(),
                                        json::array({1, 2, 3}),
                                        json::array({"a", nullptr, json::array()}),
                                        json::object({{"site", "cheek"}}),
                                        json::array({json::object()})};
  return values;
}

/// The disk with a catalogue of one size, which is read in a moment.
ReadFile small_disk() {
  json catalogue = test_catalogue();
  catalogue["cushions"].erase(1);
  catalogue["cushions"][0]["sizes"].erase(2);
  catalogue["cushions"][0]["sizes"].erase(0);
  return sample_disk({{"cushions.json", catalogue.dump()}});
}

struct Count {
  int read = 0;
  int refused = 0;
};

/// Reads the document with each value replaced by each replacement, and with each removed.
Count mutate(const json& document, const std::function<void(const json&)>& read) {
  Count count;
  const auto attempt = [&](const json& mutant) {
    try {
      read(mutant);
      ++count.read;
    } catch (const InputError& error) {
      REQUIRE_FALSE(error.faults().empty());
      for (const Fault& fault : error.faults()) {
        if (fault.message.empty()) FAIL("no words at " << fault.path);
        if (fault.message.size() > 600) FAIL(fault.path << " says too much");
        // The validator's own words begin with a capital; ours never do.
        if (fault.message[0] >= 'A' && fault.message[0] <= 'Z') FAIL(describe(fault));
      }
      ++count.refused;
    }
  };
  for (const json::json_pointer& place : all_places(document)) {
    for (const json& value : replacements()) {
      json mutant = document;
      mutant[place] = value;
      attempt(mutant);
    }
    json mutant = document;
    json& parent = mutant[place.parent_pointer()];
    if (parent.is_object()) {
      parent.erase(place.back());
    } else {
      parent.erase(std::stoul(place.back()));
    }
    attempt(mutant);
  }
  return count;
}

}  // namespace

TEST_CASE("a case with any value of a wrong type or size is refused or sound") {
  const ReadFile disk = small_disk();
  const Count count = mutate(full_case(), [&](const json& mutant) {
    const Case in = read_case(mutant.dump(), "case.json", disk);
    REQUIRE(make_mask(in).rim.n_stations() >= 16);
  });
  CHECK(count.refused > 900);
  CHECK(count.read > 40);
}

TEST_CASE("a catalogue with any value of a wrong type or size is refused or sound") {
  json document = test_catalogue();
  document["cushions"][0]["sizes"].erase(2);  // enough of each kind of value remains
  document["cushions"][0]["sizes"].erase(1);
  const Count count = mutate(document, [&](const json& mutant) {
    for (const Cushion& cushion : read_catalogue(mutant.dump(), "cushions.json").cushions) {
      const SampledRim rim = sample_rim(cushion.rim, {.n_stations = 48, .n_across = 3});
      INFO(json::diff(document, mutant).dump());
      REQUIRE(rim.perimeter_mm > 40);
      REQUIRE(rim.perimeter_mm < 5000);
    }
  });
  CHECK(count.refused > 2000);
  CHECK(count.read > 100);
}

TEST_CASE("a face with any value of a wrong type or size is refused or sound") {
  json document = json::parse(project_text("face-models/reference/landmarks.json"));
  json& landmarks = document["landmarks"];
  // The twenty first, which hold sellion, and the tragion.
  json few = json::array();
  for (const json& landmark : landmarks) {
    if (few.size() < 20 || landmark["name"] == "tragion") few.push_back(landmark);
  }
  landmarks = few;
  const Count count = mutate(document, [&](const json& mutant) {
    const FaceModel face = read_face_file(mutant.dump(), "face.json");
    REQUIRE(face.landmarks.size() >= 12);
  });
  CHECK(count.refused > 2000);
  CHECK(count.read > 40);
}

TEST_CASE("a case cut short anywhere is refused") {
  const std::string text = full_case().dump(1);
  const ReadFile disk = sample_disk();
  for (std::size_t n = 0; n < text.size(); ++n) {
    const auto faults = faults_of([&] { (void)read_case(text.substr(0, n), "case.json", disk); });
    if (faults.empty()) FAIL("cut after " << n << " bytes it was read");
  }
  CHECK(faults_of([&] { (void)read_case(text, "case.json", disk); }).empty());
}

TEST_CASE("a case with any one byte changed is refused or sound") {
  const std::string text = least_case().dump();
  const ReadFile disk = small_disk();
  std::size_t refused = 0;
  for (std::size_t n = 0; n < text.size(); ++n) {
    for (const char byte : {'\0', '"', ']', '\xff'}) {
      std::string mutant = text;
      mutant[n] = byte;
      refused += faults_of([&] { (void)read_case(mutant, "case.json", disk); }).empty() ? 0 : 1;
    }
  }
  // Only bytes inside the name, 5 of them, may be changed to `]`; quotes stay as they are.
  CHECK(refused > 4 * text.size() - 60);
}
