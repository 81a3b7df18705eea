#include "geometry/face_model.hpp"

#include "catch.hpp"
#include "stored_face.hpp"
#include "units/error.hpp"

using namespace rimload;

TEST_CASE("a face written and read again is the same") {
  const FaceModel face = stored_face("adult-female");
  const std::string text = write_face(face);
  CHECK(text == stored_text("face-models/adult-female/landmarks.json"));
  const FaceModel again = read_face(text, "");
  CHECK(again.name == face.name);
  CHECK(again.provenance == face.provenance);
  REQUIRE(again.landmarks.size() == face.landmarks.size());
  for (std::size_t k = 0; k < face.landmarks.size(); ++k) {
    CHECK(again.landmarks[k].position_face == face.landmarks[k].position_face);
    CHECK(again.landmarks[k].tissue_depth_mm == face.landmarks[k].tissue_depth_mm);
  }
  REQUIRE(again.targets.size() == face.targets.size());
  CHECK(again.targets.back().source == face.targets.back().source);
}

TEST_CASE("an asymmetric face holds both sides and is not mirrored") {
  FaceModel face = stored_face("reference");
  face.symmetric = false;
  face.landmarks.back().position_face.x() -= 2;
  const FaceModel again = read_face(write_face(face), "");
  CHECK(!again.symmetric);
  REQUIRE(again.landmarks.size() == face.landmarks.size());
  CHECK(again.landmarks.back().side == Side::right);
  CHECK(again.landmarks.back().position_face == face.landmarks.back().position_face);
}

TEST_CASE("a face file at fault is refused with the place") {
  const std::string good = write_face(stored_face("reference"));
  struct Row {
    const char *from, *to, *place;
  };
  for (const auto& [from, to, place] :
       {Row{"\"rimload_face\": 1", "\"rimload_face\": 2", "/rimload_face"},
        Row{"\"name\": \"reference\",", "", "lacks 'name'"},
        Row{"\"side\":\"midline\"", "\"side\":\"middle\"", "/landmarks/0/side"},
        Row{"\"y_mm\":60.0", "\"y_mm\":\"60\"", "/landmarks/0/y_mm"},
        Row{"\"side\":\"left\"", "\"side\":\"right\"", "/landmarks/20/side"},
        Row{"\"x_mm\":0.0", "\"x_mm\":1.0", "/landmarks/0/x_mm"},
        Row{"\"measure\":\"face_width\"", "\"measure\":\"girth\"", "/targets/0/measure"},
        Row{"}\n", "", "is no JSON"}}) {
    std::string bad = good;
    const std::size_t at = std::string(place) == "is no JSON" ? bad.rfind(from) : bad.find(from);
    REQUIRE(at != std::string::npos);
    bad.replace(at, std::string(from).size(), to);
    INFO(place);
    try {
      (void)read_face(bad, "face.json");
      FAIL("not refused");
    } catch (const InputError& error) {
      CHECK(std::string(error.what()).find(place) != std::string::npos);
      CHECK(error.faults().front().file == "face.json");
    }
  }
}
