#include "case/read_worn.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "case/nearest_name.hpp"
#include "case/read_site.hpp"

namespace rimload {

std::vector<WornDressing> read_worn(const JsonPlace& worn, const DressingCatalogue& catalogue,
                                    const std::string& file, std::span<const SidedSite> injured,
                                    std::vector<Fault>& faults) {
  std::vector<WornDressing> out;
  for (const JsonPlace& entry : worn.entries()) {
    const auto site = read_site(entry, faults);
    const auto name = entry["dressing"].text();
    if (!site) continue;
    if (std::find(injured.begin(), injured.end(), *site) != injured.end()) {
      faults.push_back(
          {"", entry["site"].pointer(),
           fmt::format("{}: its skin is injured (injured_skin, or as seen): off-load it and call, "
                       "do not dress it and carry on; allowed: sites without injured skin",
                       in_quotes(name_of(site->site)))});
    }
    if (!name) continue;
    try {
      out.push_back({*site, dressing_named(catalogue, *name, file, "")});
    } catch (const InputError& error) {
      for (const Fault& each : error.faults()) {
        faults.push_back({"", entry["dressing"].pointer(), each.message});
      }
    }
  }
  return out;
}

}  // namespace rimload
