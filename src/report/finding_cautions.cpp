#include "report/finding_cautions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "fit/caution.hpp"

namespace rimload {

namespace {

// A name a user chose, on one line and short enough for it; never cut within a character of UTF-8.
std::string clipped(std::string name) {
  constexpr std::size_t longest = 50;
  std::replace_if(
      name.begin(), name.end(), [](unsigned char c) { return c < ' '; }, ' ');
  if (name.size() <= longest) return name;
  std::size_t end = longest - 3;
  while (end > 0 && (static_cast<unsigned char>(name[end]) & 0xC0) == 0x80) --end;
  return name.substr(0, end) + "...";
}

// What must be settled before the mask goes on; injured places in one sentence.
void add_stops(const Case& input, const std::vector<Caution>& cautions, FindingLines& out) {
  const std::vector<SidedSite>& injured = input.safety.injured_sites;
  bool skin_said = false;
  for (const Caution& caution : cautions) {
    if (!caution.stop || !caution.asked) continue;
    std::string text = caution.text;
    if (caution.key == "injured_skin" && !injured.empty()) {
      if (std::exchange(skin_said, true)) continue;
      const std::string first = place_words(injured.front());
      const std::size_t at = text.find(first);
      if (at != std::string::npos) text.replace(at, first.size(), list_of(injured));
    }
    out.add(FindingLines::always, "STOP: " + text);
  }
}

void add_not_checked(const std::vector<Caution>& cautions, FindingLines& out) {
  std::string text;
  for (const Caution& caution : cautions) {
    if (caution.asked) continue;
    text += (text.empty() ? "" : "; ") + caution.text.substr(0, caution.text.find(": not checked"));
  }
  if (!text.empty()) out.add(FindingLines::always, "Not checked: " + text + ".");
}

}  // namespace

// Places of skin in words, left and right of a site taken together.
std::string list_of(const std::vector<SidedSite>& places) {
  std::string text;
  std::vector<Site> said;
  for (const SidedSite& place : places) {
    if (std::find(said.begin(), said.end(), place.site) != said.end()) continue;
    said.push_back(place.site);
    const bool twin = std::find(places.begin(), places.end(),
                                SidedSite{place.site, mirrored(place.side)}) != places.end();
    const bool both = place.side != Side::midline && twin;
    text += (text.empty() ? "" : ", ") +
            (both ? std::string(words_for(place.site)) + " (left and right)" : place_words(place));
  }
  return text;
}

void add_cautions(const Case& input, const std::vector<Caution>& cautions, FindingLines& out) {
  add_stops(input, cautions, out);
  add_not_checked(cautions, out);
}

std::string case_line(const Case& input) {
  std::string about;
  if (input.measured) {
    const std::size_t n = input.measured->asked.taken.size();
    about = fmt::format("from {} measurement{}", n, n == 1 ? "" : "s");
  }
  if (!input.scan_remarks.empty()) about = "from a scan";
  if (input.face.symmetric) about += (about.empty() ? "" : ", ") + std::string("symmetry assumed");
  if (!about.empty()) about = " (" + about + ")";
  return fmt::format("{}: {}, size {}, on the face '{}'{}.", clipped(input.name),
                     clipped(input.cushion.name), clipped(input.cushion.size),
                     clipped(input.face.name), about);
}

void add_face_remarks(const Case& input, FindingLines& out) {
  if (input.face.child) out.add(FindingLines::always, std::string(child_remark()));
  // The unit comes first: a scan read in the wrong one is another face.
  int priority = 1;
  for (const std::string& remark : input.scan_remarks) {
    out.add(priority, remark);
    priority = 5;
  }
  if (!input.measured) return;
  for (const std::string& question : input.measured->questions) {
    out.add(1, "Measurement to look at again: " + question + ".");
  }
  if (!input.face.child) out.add(5, input.measured->remarks.back());
}

std::string assumed_line(const std::string& which, const std::vector<CushionField>& assumed) {
  if (assumed.empty()) return {};
  return fmt::format(
      "Assumed of {}, from a typical cushion: {}; bands over draws are wider for it.", which,
      words_for(assumed));
}

std::string standing_line() {
  return "A planning and teaching aid, not a medical device; local policy and licensed practice "
         "first.";
}

}  // namespace rimload
