// Cases for tests: demonstration ones as stored, others from a few words.
#pragma once

#include <array>
#include <string>

#include "case/read_case.hpp"
#include "stored_face.hpp"

namespace rimload {

inline constexpr std::array demo_case_names{
    "first-fit",          "nasal-cpap",           "injured-skin",
    "below-nose-magnets", "no-vent-passive-limb", "tight-straps-small-face",
    "beard-and-tube",     "measured-wearer",      "seen-at-bedside"};

/// A case from JSON text, its paths relative to `demo/cases`.
inline Case case_from(const std::string& text) {
  return read_case(text, "demo/cases/test.json", stored_text);
}

inline Case demo_case(const std::string& name) {
  return case_from(stored_text("demo/cases/" + name + ".json"));
}

/// A case from the parts that tests change; `rest` are further members, such as `"posture": ...`.
struct CaseWords {
  std::string face = "reference";
  std::string catalogue = "../catalogue/demo-cushions.json";
  std::string cushion = "demo-oronasal";
  std::string size = "M";
  std::string settings = R"({"cpap_cmH2O": 10})";
  std::string rest = {};
};

inline Case case_of(const CaseWords& words) {
  return case_from(R"({"rimload_case": 1, "name": "A test", "face": {"model": ")" + words.face +
                   R"("}, "cushion": {"catalogue": ")" + words.catalogue + R"(", "name": ")" +
                   words.cushion + R"(", "size": ")" + words.size + R"("}, "settings": )" +
                   words.settings + (words.rest.empty() ? "" : ", ") + words.rest + "}");
}

}  // namespace rimload
