#include "report/result_json.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "case/schema_validator.hpp"
#include "catch.hpp"
#include "fit/bands.hpp"
#include "fit/fit.hpp"
#include "reported_cases.hpp"
#include "stored_case.hpp"

using namespace rimload;
using nlohmann::json;

namespace {

const SchemaValidator& validator() {
  static const SchemaValidator schema(json::parse(result_schema_text()));
  return schema;
}

std::string first_violation(const json& document) {
  const auto violations = validator().violations(document);
  if (violations.empty()) return {};
  std::string text;
  for (const Violation& each : violations) {
    for (const std::string& step : each.place) text += "/" + step;
    text += ": " + each.message + "\n";
  }
  return text;
}

const json& blown_off() {
  static const json document = json::parse(result_json(estimate_fit(
      case_of({.settings = R"({"cpap_cmH2O": 40})", .rest = R"("straps": {"tension_N": 0.5})"}))));
  return document;
}

// Keys of numbers that have no unit, and those that stand for a strap.
const std::set<std::string> dimensionless{"rimload_result",
                                          "oxygen_fraction",
                                          "inspiratory_fraction",
                                          "times_sealing_need",
                                          "stations",
                                          "across",
                                          "evaluations",
                                          "direction",
                                          "towards",
                                          "sealed_fraction",
                                          "n"};
const std::set<std::string> units_in_keys{"mm",   "mm2",   "N",     "N_mm",    "rad", "deg", "kPa",
                                          "mmHg", "cmH2O", "L_min", "per_cm2", "Fr",  "h"};

bool names_a_unit(const std::string& key) {
  return std::any_of(units_in_keys.begin(), units_in_keys.end(), [&](const std::string& unit) {
    return key.ends_with("_" + unit) || key.starts_with("hours_") || key == "days" ||
           key.find("_mm_") != std::string::npos;
  });
}

void collect_keys_without_unit(const json& value, const std::string& key,
                               std::set<std::string>& out) {
  if (value.is_number()) {
    if (!names_a_unit(key) && !dimensionless.contains(key)) out.insert(key);
  } else if (value.is_array()) {
    for (const json& each : value) collect_keys_without_unit(each, key, out);
  } else if (value.is_object()) {
    for (const auto& [name, each] : value.items()) {
      collect_keys_without_unit(each, key == "tension_N" ? key : name, out);
    }
  }
}

std::size_t count_keys(const json& value, const std::string& wanted) {
  std::size_t n = 0;
  if (value.is_array()) {
    for (const json& each : value) n += count_keys(each, wanted);
  } else if (value.is_object()) {
    for (const auto& [name, each] : value.items()) n += (name == wanted) + count_keys(each, wanted);
  }
  return n;
}

}  // namespace

TEST_CASE("result.json holds to its schema") {
  for (const ReportedCase& each : reported_cases()) {
    CAPTURE(each.what);
    CHECK(first_violation(json::parse(result_json(each.estimate))) == "");
  }
  CHECK(first_violation(blown_off()) == "");
  CHECK(first_violation(json::parse(result_json(most_cautious()))) == "");
}

TEST_CASE("The schema refuses what is missing, added or out of range") {
  const json sound = json::parse(result_json(reported_cases().front().estimate));
  REQUIRE(first_violation(sound) == "");
  const auto refused = [&](const std::string& pointer, const json& value) {
    json broken = sound;
    broken[json::json_pointer(pointer)] = value;
    return !validator().violations(broken).empty();
  };
  CHECK(refused("/extra", 1));
  CHECK(refused("/inputs/settings/cpap_cmH2O", 10));  // beside bilevel
  CHECK(refused("/phases/0/name", "pause"));
  CHECK(refused("/phases/0/loads", nullptr));
  CHECK(refused("/phases/0/equilibrium/seated", false));
  CHECK(refused("/phases/0/equilibrium/pose/translation_mm/3", 0));
  CHECK(refused("/phases/0/seal/sealed_fraction", 1.2));
  CHECK(refused("/phases/0/sites/0/sensor_mmHg", -1));
  CHECK(refused("/phases/0/sites/0/touched", true));
  CHECK(refused("/phases/0/leak/total_L_min", "none"));
  CHECK(refused("/breath_mean_leak_L_min", -0.1));
  json without = sound;
  without.erase("cautions");
  CHECK_FALSE(validator().violations(without).empty());
}

TEST_CASE("Every number has its unit in its key") {
  std::set<std::string> without_unit;
  for (const ReportedCase& each : reported_cases()) {
    collect_keys_without_unit(json::parse(result_json(each.estimate)), "", without_unit);
  }
  CHECK(without_unit == std::set<std::string>{});
}

TEST_CASE("Objects of the schema allow nothing that they do not name") {
  const json schema = json::parse(result_schema_text());
  std::size_t open = 0;
  std::size_t closed = 0;
  const auto visit = [&](const auto& self, const json& node) -> void {
    if (node.is_object()) {
      const bool is_object = node.contains("type") && node.contains("properties") &&
                             node.dump().find("additionalProperties") != std::string::npos;
      if (is_object) ++(node.value("additionalProperties", json(true)) == false ? closed : open);
      for (const auto& [key, each] : node.items()) self(self, each);
    } else if (node.is_array()) {
      for (const json& each : node) self(self, each);
    }
  };
  visit(visit, schema);
  CHECK(open == 0);
  CHECK(closed > 15);
}

TEST_CASE("A mask that is blown off gives a reason and no number in its phase") {
  const json& phase = blown_off().at("phases").at(0);
  CHECK(phase.at("equilibrium").at("seated") == false);
  CHECK(phase.at("equilibrium").at("reason").get<std::string>().size() > 10);
  CHECK(phase.at("equilibrium").at("pose").is_null());
  CHECK(phase.at("loads").is_null());
  CHECK(phase.at("sites").empty());
  CHECK(phase.at("seal").is_null());
  CHECK(phase.at("leak").is_null());
  CHECK(blown_off().at("breath_mean_leak_L_min").is_null());
  CHECK(blown_off().at("dressing_places").empty());
}

TEST_CASE("Inputs are listed as used, with what was left out marked") {
  const json document = json::parse(result_json(estimate_fit(
      case_of({.settings = R"({"inspiratory_cmH2O": 12, "expiratory_cmH2O": 6})",
               .rest = R"("straps": {"tension_N": 5}, "safety": {"vomiting_likely": false},
                  "injured_skin": [{"site": "cheek", "side": "left"}])"}))));
  const json& inputs = document.at("inputs");
  CHECK(inputs.at("settings").at("inspiratory_cmH2O").get<double>() == Approx(12));
  CHECK(inputs.at("settings").at("inspiratory_fraction") == 0.33);
  CHECK(inputs.at("straps").at("tension_N").at("upper_left") == 5);
  CHECK(inputs.at("safety").at("vomiting_likely") == false);
  CHECK(inputs.at("safety").at("airway_unprotected").is_null());
  CHECK(inputs.at("injured_skin").at(0) == json{{"site", "cheek"}, {"side", "left"}});
  CHECK(inputs.at("dressing_rule").at("sensor_above_mmHg").is_null());
  const auto& defaulted = inputs.at("defaulted");
  for (const char* pointer : {"/posture", "/hours_planned", "/settings/inspiratory_fraction"}) {
    CHECK(std::find(defaulted.begin(), defaulted.end(), pointer) != defaulted.end());
  }
  CHECK(std::find(defaulted.begin(), defaulted.end(), "/straps/setting") == defaulted.end());
}

TEST_CASE("No pressure is given on an eyelid and no area under a strap") {
  for (const ReportedCase& each : reported_cases()) {
    const json document = json::parse(result_json(each.estimate));
    for (const json& phase : document.at("phases")) {
      for (const json& site : phase.at("sites")) {
        if (site.at("name") == "eyelid") CHECK_FALSE(site.contains("sensor_mmHg"));
        if (site.at("name") == "ear_top") CHECK(site.at("contact_area_mm2").is_null());
      }
    }
  }
  CHECK(count_keys(json::parse(result_json(reported_cases().front().estimate)), "touched") == 4);
}

TEST_CASE("bands on a scanned face say what their draws assume of it, others say nothing") {
  Case input = demo_case("nasal-cpap");
  const json plain = json::parse(result_json(with_bands(estimate_fit(input), {.n_draws = 2})));
  CHECK(first_violation(plain).empty());
  CHECK_FALSE(plain["bands"].contains("scan_draws"));
  input.scan_residual_mm = 0.31;
  const Estimate scanned = with_bands(estimate_fit(input), {.n_draws = 2});
  const json document = json::parse(result_json(scanned));
  CHECK(first_violation(document).empty());
  const std::string words = document["bands"]["scan_draws"];
  CHECK(words.find("0.31 mm RMS") != std::string::npos);
  CHECK(words.find("0.8 to 1.25") != std::string::npos);
}
