// Face files: what is refused beyond the schema.
#include "case/face_file.hpp"

#include "case/sample_files.hpp"
#include "catch.hpp"

using namespace rimload;
using nlohmann::json;

namespace {
json reference() { return json::parse(project_text("face-models/reference/landmarks.json")); }
std::size_t index_of(const json& face, const std::string& name) {
  for (std::size_t k = 0; k < face["landmarks"].size(); ++k) {
    if (face["landmarks"][k]["name"] == name) return k;
  }
  throw std::runtime_error("the reference face has no " + name);
}
}  // namespace

TEST_CASE("every face model that comes with the program is sound") {
  const auto names = face_model_names();
  CHECK(names.size() >= 8);
  for (const std::string& name : names) {
    INFO(name);
    REQUIRE(face_model_named(name) != nullptr);
    const FaceModel& face = *face_model_named(name);
    CHECK(face.name == name);
    CHECK_FALSE(face.provenance.empty());
  }
  CHECK(face_model_named("nobody") == nullptr);
}

TEST_CASE("faults of a face are named at the landmark") {
  json face = reference();
  const std::size_t bridge = index_of(face, "rhinion");
  const std::size_t malar = index_of(face, "malar");
  const std::size_t chin = index_of(face, "menton");
  face["landmarks"][bridge]["name"] = "rinion";
  face["landmarks"][malar]["x_mm"] = -47;
  face["landmarks"][chin]["tissue_depth_mm"] = 0;
  face["landmarks"].push_back(face["landmarks"][0]);
  face["targets"][0]["measure"] = "face_widht";
  face["symetric"] = true;
  const std::string at = "/landmarks/";
  const auto faults = face_faults(face);
  INFO(listed(faults));
  CHECK(names(faults, at + std::to_string(bridge) + "/name", "nearest valid name: 'rhinion'"));
  CHECK(names(faults, at + std::to_string(malar) + "/x_mm", "-47 mm is not on the side named"));
  CHECK(names(faults, at + std::to_string(chin) + "/tissue_depth_mm", "0.5 to 60 mm"));
  CHECK(names(faults, at + std::to_string(face["landmarks"].size() - 1), "given twice"));
  CHECK(names(faults, "/targets/0/measure", "nearest valid name: 'face_width'"));
  CHECK(names(faults, "/symetric", "nearest valid name: 'symmetric'"));
  CHECK(faults.size() == 6);
}

TEST_CASE("a symmetric face gives no right side, and an asymmetric one gives both tragions") {
  json face = reference();
  json right = face["landmarks"][index_of(face, "tragion")];
  right["side"] = "right";
  right["x_mm"] = -71;
  face["landmarks"].push_back(right);
  const std::string last = std::to_string(face["landmarks"].size() - 1);
  CHECK(names(face_faults(face), "/landmarks/" + last + "/side", "gives no right side"));
  face["symmetric"] = false;
  CHECK(listed(face_faults(face)).empty());
  face["landmarks"].erase(face["landmarks"].size() - 1);
  CHECK(names(face_faults(face), "/landmarks", "'tragion' (right) is missing"));
}
