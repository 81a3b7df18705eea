#include <nlohmann/json.hpp>

#include "catch.hpp"
#include "mould.hpp"
#include "stored_face.hpp"

using namespace rimload;

TEST_CASE("the stored demonstration catalogue is what its moulds make") {
  const auto face_named = [](const std::string& name) {
    const std::string path = "face-models/" + name + "/landmarks.json";
    return read_face(stored_text(path), path);
  };
  const auto made =
      nlohmann::json::parse(mould_catalogue(stored_text("demo/catalogue/moulds.json"), face_named));
  const auto stored = nlohmann::json::parse(stored_text("demo/catalogue/demo-cushions.json"));
  const auto made_values = made.flatten();
  const auto stored_values = stored.flatten();
  REQUIRE(made_values.size() == stored_values.size());
  for (const auto& [place, value] : stored_values.items()) {
    INFO(place);
    REQUIRE(made_values.contains(place));
    const auto& other = made_values[place];
    if (value.is_number()) {
      // Stored to a thousandth; another compiler may round the last digit the other way.
      CHECK(other.get<double>() == Approx(value.get<double>()).margin(1.1e-3));
    } else {
      CHECK(other == value);
    }
  }
}
