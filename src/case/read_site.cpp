#include "case/read_site.hpp"

#include <fmt/format.h>

namespace rimload {

std::optional<SidedSite> read_site(const JsonPlace& place, std::vector<Fault>& faults) {
  const auto site = site_named(place["site"].text().value_or(""));
  if (!site) return std::nullopt;
  const auto side = side_named(place["side"].text().value_or(""));
  if (is_midline(*site)) {
    if (side && *side != Side::midline) {
      faults.push_back({"", place["side"].pointer(),
                        fmt::format("the {} lies on the midline and is one site; leave side out",
                                    words_for(*site))});
    }
  } else if (!side || *side == Side::midline) {
    faults.push_back({"", place["side"].pointer(),
                      fmt::format("the {} has two sides; needed: left or right, the wearer's",
                                  words_for(*site))});
  }
  return SidedSite{*site, is_midline(*site) ? Side::midline : side.value_or(Side::left)};
}

}  // namespace rimload
