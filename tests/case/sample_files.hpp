// Files for the tests of cases: a full valid case, and a disk that holds what it names.
#pragma once

#include <algorithm>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "case/catalogue.hpp"
#include "case/face_file.hpp"
#include "case/read_case.hpp"
#include "units/error.hpp"

namespace rimload {

inline std::string project_text(const std::string& path) {
  std::ifstream in(std::string(RIMLOAD_SOURCE_DIR) + "/" + path, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

/// A valid case that gives every key the format has, one of each choice.
inline nlohmann::json full_case() {
  return nlohmann::json::parse(R"({
    "rimload_case": 1,
    "about": "Invented for the tests.",
    "name": "every key",
    "face": {"model": "reference"},
    "cushion": {"catalogue": "cushions.json", "name": "test-oronasal", "size": "medium"},
    "settings": {"inspiratory_cmH2O": 14, "expiratory_cmH2O": 6, "inspiratory_fraction": 0.4,
                 "oxygen_fraction": 0.5},
    "straps": {"tension_N": {"upper": 3, "lower_left": 4, "lower_right": 5}},
    "posture": "supine",
    "hours_planned": 12,
    "circuit": "dual_limb",
    "safety": {"vomiting_likely": false, "airway_unprotected": true, "altered_mental_state": false,
               "facial_injury_or_surgery": false, "cannot_remove_mask": true,
               "implant_near_magnets": false, "acute_failure": true, "watched": true,
               "skin_checked": true},
    "injured_skin": [{"site": "cheek", "side": "left"}, {"site": "nasal_bridge"}],
    "placement": {"shift_left_mm": 1, "shift_up_mm": 2, "push_in_mm": 3, "turn_down_deg": 4,
                  "turn_left_deg": 5, "raise_left_deg": 6},
    "beard": {"region": "chin", "hair_mm": 6, "density": "short", "shaved_under_rim": false},
    "tube": {"kind": "orogastric", "side": "right", "size_Fr": 14,
             "path_mm": [[-24, -66, 12], [-50, -70, -5], [-70, -60, -60]]},
    "dentures": "in",
    "mouth": "open_at_rest",
    "skin": {"moisture": "moist", "modifiers": ["oedema", "fragile_skin"],
             "hours_worn": 2, "days": 3, "check_every_h": 2},
    "dressings": {"catalogue": "dressings.json",
                  "worn": [{"site": "cheek", "side": "right", "dressing": "demo-thin-foam"},
                           {"site": "chin", "dressing": "demo-film"}]},
    "dressing_rule": {"bone_depth_below_mm": 6, "hours_at_least": 3, "sensor_above_mmHg": 70,
                      "times_sealing_need": 3},
    "sizes": {"rank_by": "window", "strap_step_mm": 3, "seals_in_share": 0.8, "tie_share": 0.1},
    "seen": [{"straps": {"change_mm": -10}, "leak_L_min": 12, "leak_doubt_percent": 25,
              "finger": "two_fingers"},
             {"straps": {"tension_N": {"upper": 2, "lower": 3}}, "skin_after_h": 4,
              "skin": [{"site": "chin", "state": "red_blanches"},
                       {"site": "cheekbone", "side": "right", "state": "unchanged"}]}],
    "leak_limit_L_min": 30,
    "leak_target_L_min": 8,
    "sampling": {"stations": 120, "across": 5}
  })");
}

/// The least that a case may be.
inline nlohmann::json least_case() {
  return nlohmann::json::parse(R"({
    "rimload_case": 1, "name": "least", "face": {"model": "reference"},
    "cushion": {"catalogue": "cushions.json", "name": "test-oronasal", "size": "medium"},
    "settings": {"cpap_cmH2O": 10}
  })");
}

inline nlohmann::json test_catalogue() {
  return nlohmann::json::parse(project_text("tests/data/test-cushions.json"));
}

/// A disk with the test catalogue, the reference face as `face.json`, and further files.
inline ReadFile sample_disk(std::map<std::string, std::string> more = {}) {
  more.emplace("cushions.json", project_text("tests/data/test-cushions.json"));
  more.emplace("dressings.json", project_text("demo/catalogue/demo-dressings.json"));
  more.emplace("face.json", project_text("face-models/reference/landmarks.json"));
  return [files = std::move(more)](const std::string& path) {
    const auto found = files.find(path);
    if (found == files.end()) throw InputError(path, "", "there is no such file");
    return found->second;
  };
}

/// The faults that reading throws, none when it does not.
template <typename Read>
std::vector<Fault> faults_of(Read&& read) {
  try {
    read();
  } catch (const InputError& error) {
    return error.faults();
  }
  return {};
}
inline std::vector<Fault> case_faults(const nlohmann::json& document) {
  static const ReadFile disk = sample_disk();
  return faults_of([&] { (void)read_case(document.dump(), "case.json", disk); });
}
inline std::vector<Fault> catalogue_faults(const nlohmann::json& document) {
  return faults_of([&] { (void)read_catalogue(document.dump(), "cushions.json"); });
}
inline std::vector<Fault> face_faults(const nlohmann::json& document) {
  return faults_of([&] { (void)read_face_file(document.dump(), "face.json"); });
}

/// Whether one of the faults is at the place and holds the words.
inline bool names(const std::vector<Fault>& faults, const std::string& path,
                  const std::string& words) {
  return std::any_of(faults.begin(), faults.end(), [&](const Fault& fault) {
    return fault.path == path && fault.message.find(words) != std::string::npos;
  });
}

inline std::string listed(const std::vector<Fault>& faults) {
  std::string text;
  for (const Fault& fault : faults) text += describe(fault) + "\n";
  return text;
}

}  // namespace rimload
