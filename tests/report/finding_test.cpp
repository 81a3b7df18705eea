#include "report/finding.hpp"

#include <algorithm>
#include <map>
#include <sstream>

#include "catch.hpp"
#include "fit/fit.hpp"
#include "fit/skin_tolerance.hpp"
#include "fit/strap_setting.hpp"
#include "report/finding_lines.hpp"
#include "reported_cases.hpp"
#include "stored_case.hpp"

using namespace rimload;

namespace {

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) out.push_back(line);
  return out;
}

// Lines joined again to paragraphs.
std::string unwrapped(const std::string& text) {
  std::string out;
  for (const std::string& line : lines_of(text)) {
    out += line.starts_with("  ") ? " " + line.substr(2) : "\n" + line;
  }
  return out;
}

void check_page(const std::string& text) {
  const auto lines = lines_of(text);
  CHECK(lines.size() <= 25);
  for (const std::string& line : lines) CHECK(line.size() <= 100);
  CHECK(text.find("not a medical device") != std::string::npos);
  CHECK(text.ends_with("\n"));
}

// The caution up to the place it names, which may be joined with others.
std::string start_of(const Caution& caution) {
  return caution.key == "injured_skin" ? caution.text.substr(0, 12) : caution.text;
}

void check_cautions(const Estimate& estimate, const std::string& text) {
  const std::string whole = unwrapped(text);
  for (const Caution& caution : estimate.cautions) {
    CAPTURE(caution.key);
    if (caution.stop) CHECK(whole.find("STOP: " + start_of(caution)) != std::string::npos);
    if (caution.asked) continue;
    const auto end = caution.text.find(": not checked");
    CHECK(whole.find(caution.text.substr(0, end)) != std::string::npos);
    CHECK(whole.find("Not checked: ") != std::string::npos);
  }
}

const std::string& finding_of(const std::string& demo) {
  static std::map<std::string, std::string> known;
  auto& text = known[demo];
  for (const ReportedCase& each : reported_cases()) {
    if (each.what == demo && text.empty()) text = finding(each.estimate);
  }
  return text;
}

}  // namespace

TEST_CASE("A finding fits a page and drops no caution") {
  for (const ReportedCase& each : reported_cases()) {
    CAPTURE(each.what);
    const std::string text = finding(each.estimate);
    check_page(text);
    check_cautions(each.estimate, text);
  }
}

TEST_CASE("With every caution at once the finding still fits a page and drops none") {
  const std::string text = finding(most_cautious());
  CAPTURE(text);
  check_page(text);
  check_cautions(most_cautious(), text);
  // Each injured place is named once, left and right together.
  const std::string whole = unwrapped(text);
  for (const SidedSite& place : most_cautious().input.safety.injured_sites) {
    CHECK(whole.find(words_for(place.site)) != std::string::npos);
  }
  CHECK(whole.find("cheekbone (left and right)") != std::string::npos);
}

TEST_CASE("Findings say where a dressing goes and the skin's concern, unless STOPs fill the page") {
  constexpr int most_stops = 3;
  for (const ReportedCase& each : reported_cases()) {
    const auto& phases = each.estimate.phases;
    const auto& cautions = each.estimate.cautions;
    if (!std::all_of(phases.begin(), phases.end(), [](const auto& p) { return p.seated; }) ||
        std::count_if(cautions.begin(), cautions.end(), [](const auto& c) { return c.stop; }) >
            most_stops) {
      continue;
    }
    const std::string text = unwrapped(finding(each.estimate));
    CAPTURE(each.what, text);
    const bool listed = !each.estimate.dressing_places.empty();
    CHECK((text.find("\nDressing: ") != std::string::npos) == listed);
    CHECK((text.find("\nNo site ") != std::string::npos) == !listed);
    const SiteTolerance& urgent = most_urgent(each.estimate.skin);
    if (urgent.concern.level == Concern::injury) continue;
    CHECK(text.find("\nSkin: concern " + std::string(name_of(urgent.concern.level))) !=
          std::string::npos);
  }
}

TEST_CASE("The finding of every demonstration shows the taught alarm limits under local policy") {
  for (const char* name : demo_case_names) {
    const std::string text = unwrapped(finding_of(name));
    CAPTURE(name, text);
    const std::size_t at = text.find("\nAlarms by one taught rule (common practice, no source");
    REQUIRE(at != std::string::npos);
    const std::string line = text.substr(at + 1, text.find('\n', at + 1) - at - 1);
    for (const char* policy : {"Local policy sets these", "low inspiratory pressure",
                               "disconnection", "apnoea", "rate", "volume", "leak", "saturation"}) {
      CHECK(line.find(policy) != std::string::npos);
    }
  }
}

TEST_CASE("Straps above their window are said to be, with the crease that is not modelled") {
  const auto text_at = [](const char* straps) {
    return unwrapped(finding(
        with_strap_note(estimate_fit(case_of({.rest = std::string(R"("straps": )") + straps})))));
  };
  for (const char* straps : {R"({"setting": "above_window"})", R"({"tension_N": 8})"}) {
    const std::string text = text_at(straps);
    CAPTURE(text);
    CHECK(text.find("Above the window the lip can crease and leak more") != std::string::npos);
  }
  CHECK(text_at(R"({"tension_N": 8})").find("above the window of equal straps") !=
        std::string::npos);
  const std::string below = text_at(R"({"tension_N": 2})");
  CAPTURE(below);
  CHECK(below.find("below the window of equal straps: seals from") != std::string::npos);
  CHECK(below.find("crease") == std::string::npos);
}

TEST_CASE("Both eyes are told of when air blows into both, each with its flow") {
  const std::string text = unwrapped(finding_of("seen-at-bedside"));
  CAPTURE(text);
  CHECK(text.find("\nAir dries the eye: both, 7.9 L/min from the side of the nose.") !=
        std::string::npos);
  CHECK(text.find("\nFirst leak (inspiratory): side of the nose (left and right). Mean over") !=
        std::string::npos);
}

TEST_CASE("Hair that lets no air pass is not said to break the seal") {
  const std::string text = unwrapped(finding(estimate_fit(case_of(
      {.rest = R"("beard": {"region": "moustache", "hair_mm": 2, "density": "stubble"})"}))));
  CAPTURE(text);
  CHECK(text.find("Breaks the seal") == std::string::npos);
  CHECK(text.find("The beard lets no air pass that counts") != std::string::npos);
}

TEST_CASE("Beard and tube are named with their flows, the larger first, before the first leak") {
  const std::string text = unwrapped(finding_of("beard-and-tube"));
  CAPTURE(text);
  const std::size_t beard = text.find("\nBreaks the seal: beard (full, 4 mm) ");
  const std::size_t tube = text.find("\nBreaks the seal: tube (12 Fr) ");
  REQUIRE(beard != std::string::npos);
  REQUIRE(tube != std::string::npos);
  CHECK(beard < tube);
  CHECK(text.find("it presses the skin beneath it with 88 mmHg (27 over 1 cm2)") !=
        std::string::npos);
  CHECK(tube < text.find("\nFirst leak"));
}

TEST_CASE("Cautions come before anything else") {
  const std::string text = unwrapped(finding_of("no-vent-passive-limb"));
  CHECK(text.starts_with("\nSTOP: "));
  CHECK(text.rfind("STOP: ") < text.find("Not checked: "));
  CHECK(text.find("Not checked: ") < text.find("CPAP, 10 cmH2O"));
}

TEST_CASE("The finding answers seat, seal, worst site, first leak and dressing, in this order") {
  const std::string text = unwrapped(finding_of("first-fit"));
  std::size_t before = 0;
  for (const char* words : {"Expiratory, 6 cmH2O: seats", "Inspiratory, 14 cmH2O: seats",
                            "Most pressed: ", "Sealing needs", "First leak",
                            "Skin: ", "Dressing: ", "Alarms by", "Look at the skin"}) {
    CAPTURE(words, text);
    const std::size_t at = text.find(words);
    REQUIRE(at != std::string::npos);
    CHECK(at > before);
    before = at;
  }
}

TEST_CASE("The first leak is the weakest place at the highest gas pressure") {
  for (const ReportedCase& each : reported_cases()) {
    const auto& phases = each.estimate.phases;
    if (!std::all_of(phases.begin(), phases.end(), [](const auto& p) { return p.seated; })) {
      continue;
    }
    const std::string text = unwrapped(finding(each.estimate));
    const std::size_t at = text.find("\nFirst leak");
    CAPTURE(each.what, text);
    REQUIRE(at != std::string::npos);
    const std::string line = text.substr(at + 1, text.find('\n', at + 1) - at - 1);
    CHECK(line.find(words_for(phases.back().seal.weakest_site.site)) != std::string::npos);
  }
}

TEST_CASE("Left and right dressing places of a site share a line") {
  for (const ReportedCase& each : reported_cases()) {
    const std::string text = unwrapped(finding(each.estimate));
    for (const DressingPlace& place : each.estimate.dressing_places) {
      std::size_t n = 0;
      const std::string mark = std::string(words_for(place.site.site));
      std::size_t at = text.find("\nDressing: ");
      while (at != std::string::npos) {
        const std::string what = text.substr(at, text.find(" mm", at) - at);
        if (what.find(mark + ",") != std::string::npos ||
            what.find(mark + " left and right,") != std::string::npos) {
          ++n;
        }
        at = text.find("\nDressing: ", at + 1);
      }
      CAPTURE(each.what, text, mark);
      CHECK(n <= 1);
    }
  }
}

TEST_CASE("A mask that is blown off is said not to seat, without pressures or leaks") {
  const std::string text = finding(estimate_fit(
      case_of({.settings = R"({"cpap_cmH2O": 40})", .rest = R"("straps": {"tension_N": 0.5})"})));
  CAPTURE(text);
  CHECK(text.find("does not seat: ") != std::string::npos);
  CHECK(text.find("mmHg") == std::string::npos);
  CHECK(text.find("First leak") == std::string::npos);
  CHECK(text.find("Dressing") == std::string::npos);
  CHECK(text.find("No site") == std::string::npos);
}

TEST_CASE("Injured skin is never said to need no dressing") {
  const std::string text = unwrapped(finding_of("injured-skin"));
  CHECK(text.find("STOP: Skin at the nasal bridge, top of the ear (left)") != std::string::npos);
  CHECK(text.find("Dressing: nasal bridge") == std::string::npos);
  CHECK(text.find("\nNo site needs") == std::string::npos);
}

TEST_CASE("What matters least is left out first when the page is full") {
  FindingLines page;
  for (int k = 0; k < 10; ++k) page.add(FindingLines::always, "caution " + std::to_string(k));
  for (int k = 0; k < 20; ++k) page.add(1 + k % 2, "matter " + std::to_string(k));
  page.add(FindingLines::always, "end");
  const auto lines = lines_of(page.text());
  CHECK(lines.size() == 25);
  CHECK(lines.back() == "end");
  CHECK(lines[23].find("result.json") != std::string::npos);
  // All of the ten that matter more, and the first of the others.
  CHECK(std::count(lines.begin(), lines.end(), "matter 18") == 1);
  CHECK(std::count(lines.begin(), lines.end(), "matter 1") == 1);
  CHECK(std::count(lines.begin(), lines.end(), "matter 19") == 0);
}

TEST_CASE("The finding says that a face is from a scan and in what unit it was read") {
  const auto found = std::ranges::find(reported_cases(), "first-fit", &ReportedCase::what);
  REQUIRE(found != reported_cases().end());
  Estimate estimate = found->estimate;
  CHECK(finding(estimate).find("scan") == std::string::npos);
  estimate.input.scan_remarks = {"The scan's unit is taken to be cm."};
  const std::string text = unwrapped(finding(estimate));
  CHECK(text.find("(from a scan") != std::string::npos);
  CHECK(text.find("The scan's unit is taken to be cm.") != std::string::npos);
}
