#include "report/rotation_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <set>
#include <utility>

#include "fit/caution.hpp"
#include "skin/check_plan.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

constexpr std::size_t most_pairs = 3;
constexpr double least_named_mm2 = 1;  // less at a site is a cell or two of the map

std::string worst_words(const SizeCandidate& candidate) {
  return fmt::format("{} {} ({} {:.0f} mmHg)", candidate.cushion.name, candidate.cushion.size,
                     place_words(candidate.worst.site), units::to_mmhg(candidate.median_worst()));
}

// Where two share most skin; nothing when they share next to none.
std::string most_shared(const SharedSkin& shared) {
  const auto most =
      std::max_element(shared.by_site.begin(), shared.by_site.end(),
                       [](const auto& a, const auto& b) { return a.second < b.second; });
  if (most == shared.by_site.end() || most->second < least_named_mm2) return {};
  return place_words(most->first);
}

std::string pair_words(const SizeChoice& choice, const RotationPair& pair) {
  const std::string most = most_shared(pair.shared);
  return fmt::format(
      "- {}, {}: {}.", worst_words(choice.candidates[pair.first]),
      worst_words(choice.candidates[pair.second]),
      most.empty() ? "no skin in common"
                   : fmt::format("both load {:.0f} mm2, {:.0f} % of the smaller, most at the {}",
                                 pair.shared.area_mm2, 100 * pair.shared.share, most));
}

}  // namespace

std::string rotation_csv(const SizeChoice& choice, const std::vector<RotationPair>& pairs) {
  std::string out =
      "first,first_size,first_worst_mmHg,first_worst_site,first_loads_mm2,second,second_size,"
      "second_worst_mmHg,second_worst_site,second_loads_mm2,both_load_mm2,share_of_smaller,"
      "shared_most_at,straps_of_both_press\n";
  for (const RotationPair& pair : pairs) {
    const auto cushion_cells = [&](std::size_t index, double loads_mm2) {
      const SizeCandidate& candidate = choice.candidates[index];
      return fmt::format("{},{},{},{},{}", candidate.cushion.name, candidate.cushion.size,
                         units::to_mmhg(candidate.median_worst()),
                         place_words(candidate.worst.site), loads_mm2);
    };
    std::string straps;
    for (const Site site : pair.under_straps) {
      straps += (straps.empty() ? "" : "; ") + std::string(words_for(site));
    }
    fmt::format_to(std::back_inserter(out), "{},{},{},{},{},{}\n",
                   cushion_cells(pair.first, pair.first_mm2),
                   cushion_cells(pair.second, pair.second_mm2), pair.shared.area_mm2,
                   pair.shared.share, most_shared(pair.shared), straps);
  }
  return out;
}

void add_rotation(const SizeChoice& choice, const std::vector<RotationPair>& pairs,
                  FindingLines& out) {
  if (pairs.empty()) {
    out.add(2, "Rotation: no two cushions of other names fit this face.");
  } else {
    const RotationPractice practice = rotation_practice();
    const RotationRule& rule = usual_rotation_rule();
    out.add(2, fmt::format("{} Source: {}. {}", practice.text, practice.source, rule.why));
    out.add(2, fmt::format("Least skin that both press above {:g} mmHg (a convention), the best "
                           "sizes of each, worst reading:",
                           units::to_mmhg(rule.pressed_above)));
    std::set<std::pair<std::string, std::string>> named;
    for (const RotationPair& pair : pairs) {
      if (named.size() == most_pairs) break;
      std::string one = choice.candidates[pair.first].cushion.name;
      std::string other = choice.candidates[pair.second].cushion.name;
      if (other < one) std::swap(one, other);
      if (named.emplace(one, other).second) out.add(2, pair_words(choice, pair));
    }
    const bool straps = std::any_of(pairs.begin(), pairs.end(), [](const RotationPair& pair) {
      return !pair.under_straps.empty();
    });
    if (straps) out.add(3, "Straps are not counted: those of both press ears, head or cheek.");
  }
  out.add(2, "Not modelled: helmet and high flow, which load other skin or none of the face.");
}

}  // namespace rimload
