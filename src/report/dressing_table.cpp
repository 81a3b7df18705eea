#include "report/dressing_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <nlohmann/json.hpp>

#include "fit/caution.hpp"
#include "report/finding_cautions.hpp"
#include "report/finding_lines.hpp"
#include "report_data.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

std::string evidence(const char* key) {
  static const auto table = nlohmann::json::parse(data::published_pressure_json());
  return table.at(key).at("text").get<std::string>();
}

std::string mmhg(double pressure) { return fmt::format("{:.0f}", units::to_mmhg(pressure)); }

std::vector<SidedSite> sites_of(const std::vector<DressingPlace>& places) {
  std::vector<SidedSite> out;
  for (const DressingPlace& place : places) out.push_back(place.site);
  return out;
}

std::string quoted(std::string text) {
  for (std::size_t at = 0; (at = text.find('"', at)) != std::string::npos; at += 2) {
    text.insert(at, "\"");
  }
  return '"' + text + '"';
}

// Cells of a place just sealed: tension, reading, peak, shear, area, strains, bone.
std::string sealed_cells(double tension_n, const PlaceReading& place,
                         const std::optional<SiteSection>& section) {
  std::string out =
      fmt::format("{},{},{},{},{}", tension_n, units::to_mmhg(place.sensor),
                  units::to_mmhg(place.peak), units::to_kpa(place.shear), place.contact_mm2);
  if (!section) return out + ",,,,,";
  const SectionAnswer& answer = section->answer;
  return out + fmt::format(",{},{},{},{},{}", answer.skin.compression, answer.skin.shear,
                           answer.fat.compression, answer.fat.shear,
                           units::to_mmhg(answer.bone_pressure_peak));
}

double worst_at(const BreathReading& breath, const std::vector<DressingPlace>& places) {
  double worst = 0;
  for (const SitePressure& site : breath.sites) {
    for (const DressingPlace& place : places) {
      if (place.site == SidedSite{site.site, site.side}) worst = std::max(worst, site.sensor);
    }
  }
  return worst;
}

// Cells at the case's straps: tension, leak, reading.
std::string same_cells(const SettingReading& same, const std::vector<DressingPlace>& places) {
  if (!same.breath.seated) return fmt::format("{},,", same.mean_n);
  return fmt::format("{},{},{}", same.mean_n, units::to_l_per_min(same.breath.mean_leak),
                     units::to_mmhg(worst_at(same.breath, places)));
}

void add_rows(std::string& out, const DressingChoice& choice, const DressedPlace& place) {
  const auto into = std::back_inserter(out);
  const std::string where = quoted(list_of(sites_of(place.places)));
  fmt::format_to(into, "{},none,,,{},{},,,,,,\n", where,
                 same_cells(choice.same_straps, place.places),
                 sealed_cells(choice.just_sealed.mean_n, place.bare, place.section));
  for (const DressingOption& option : place.options) {
    const Dressing& dressing = option.pieces[0].dressing;
    fmt::format_to(into, "{},{},{},{},{},", where, dressing.name, name_of(dressing.kind),
                   dressing.thickness_mm, same_cells(option.same_straps, place.places));
    out += option.just_sealed
               ? sealed_cells(option.just_sealed->mean_n, option.place, option.section)
               : std::string(9, ',');
    if (option.next_door) {
      fmt::format_to(into, ",{},{},{}", place_words(*option.next_door),
                     units::to_mmhg(option.next_door_before),
                     units::to_mmhg(option.next_door_after));
    } else {
      out += ",,,";
    }
    std::string flags;
    for (const DressingFlag& flag : option.flags) {
      flags += fmt::format("{}{}: {}", flags.empty() ? "" : " ", name_of(flag.warning), flag.text);
    }
    fmt::format_to(into, ",{},{},{}\n", option.helps ? "yes" : "no", quoted(option.why),
                   quoted(flags));
  }
}

// The kinds at a place, least strain first.
std::vector<const DressingOption*> in_order(const DressedPlace& place) {
  std::vector<const DressingOption*> out;
  for (const DressingOption& option : place.options) {
    if (option.section) out.push_back(&option);
  }
  std::stable_sort(out.begin(), out.end(), [](const auto* a, const auto* b) {
    return tissue_strain(*a->section) < tissue_strain(*b->section);
  });
  return out;
}

std::string strain_and_reading(const SiteSection& section, const PlaceReading& place) {
  return fmt::format("{:.0f} %, {} mmHg", 100 * tissue_strain(section), mmhg(place.sensor));
}

// A place bare and under so many of its kinds.
std::string place_line(const DressedPlace& place, const std::string& where, std::size_t most) {
  if (!place.section) return where + ": not pressed just sealed.";
  std::string out = where + ": bare " + strain_and_reading(*place.section, place.bare);
  const auto order = in_order(place);
  for (std::size_t k = 0; k < std::min(most, order.size()); ++k) {
    const DressingOption& option = *order[k];
    out += fmt::format("; {}{} {}", option.pieces[0].dressing.name, option.helps ? "*" : "",
                       strain_and_reading(*option.section, option.place));
  }
  return out + ".";
}

void add_chosen(const DressingChoice& choice, FindingLines& out) {
  if (choice.chosen.empty()) {
    out.add(FindingLines::always,
            "Chosen: none. No dressing of the catalogue eases the tissue at a place without more "
            "load there or next door; one can still be worn against moisture or friction.");
    return;
  }
  std::vector<std::string> names;
  for (const WornPiece& piece : choice.chosen) {
    const std::string& name = piece.dressing.name;
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  }
  for (const std::string& name : names) {
    std::vector<SidedSite> sites;
    const Dressing* dressing = nullptr;
    for (const WornPiece& piece : choice.chosen) {
      if (piece.dressing.name != name) continue;
      sites.push_back(piece.place.site);
      dressing = &piece.dressing;
    }
    out.add(FindingLines::always,
            fmt::format("Chosen: {} ({}, {:g} mm) at the {}. A piece may stay on {:g} h.", name,
                        words_for(dressing->kind), dressing->thickness_mm, list_of(sites),
                        dressing->wear_h));
  }
  const double before_n = choice.just_sealed.mean_n;
  const double after_n =
      choice.after->strap_tension_n.empty() ? 0 : choice.after->strap_tension_n.front();
  out.add(1, fmt::format("With all of it on, straps just seal at {:.1f} N, bare at {:.1f} N: set "
                         "them anew, then look for leaks along the dressing's edges.",
                         after_n, before_n));
}

}  // namespace

std::string dressing_csv(const DressingChoice& choice) {
  std::string out =
      "places,dressing,kind,thickness_mm,case_tension_N,case_leak_L_min,case_sensor_mmHg,"
      "sealed_tension_N,sensor_mmHg,peak_mmHg,shear_kPa,contact_mm2,skin_compression,skin_shear,"
      "fat_compression,fat_shear,bone_mmHg,next_door,next_door_bare_mmHg,next_door_mmHg,helps,why,"
      "flags\n";
  for (const DressedPlace& place : choice.places) add_rows(out, choice, place);
  if (choice.everywhere) add_rows(out, choice, *choice.everywhere);
  return out;
}

std::string dressing_finding(const DressingChoice& choice) {
  FindingLines out(FindingLines::max_lines, "dressings.csv");
  const Case& input = choice.bare.input;
  add_cautions(input, choice.bare.cautions, out);
  out.add(1, case_line(input));
  if (!choice.before) {
    out.add(FindingLines::always,
            "The bare mask does not seat, or no strap tension seals it: find mask and straps "
            "first (rimload fit, rimload straps), then dressings.");
  } else if (choice.places.empty()) {
    out.add(FindingLines::always, "No site needs a dressing by the rule in use: chosen none.");
  } else {
    add_chosen(choice, out);
    const bool beyond =
        std::any_of(choice.places.begin(), choice.places.end(), [](const DressedPlace& place) {
          return place.section && place.section->answer.beyond_small_strain;
        });
    if (beyond) {
      out.add(1, fmt::format("Strains above {:.0f} % lie beyond what the slice holds for: compare "
                             "them, don't read them.",
                             100 * section_defaults().small_strain_limit));
    }
    out.add(2, fmt::format("Just sealed: largest compression of skin and fat, and what a sensor "
                           "reads; bare, then the dressings that strain least. * helps: {:.0f} % "
                           "less strain, no more load there or next door, can be cut.",
                           100 * usual_choice_rule().helps_by));
    int priority = 3;
    for (const DressedPlace& place : choice.places) {
      out.add(priority++, place_line(place, list_of(sites_of(place.places)), 2));
    }
    constexpr std::size_t most_kinds = 4;
    if (choice.everywhere) {
      out.add(2, place_line(*choice.everywhere, "one kind at all of these places", most_kinds));
    }
    for (const std::string& text : choice.left_off) out.add(5, "Left off: " + text + ".");
    if (choice.after) {
      for (const DressingFlag& flag :
           dressing_flags(*choice.before, *choice.after, usual_choice_rule())) {
        out.add(4, "Mind: " + flag.text);
      }
    }
  }
  // Read from the case as it was given: the estimate had them taken off.
  if (choice.worn_left_aside) out.add(1, "Dressings that the case has on were left aside.");
  out.add(1, evidence("dressings"));
  out.add(3, evidence("checks"));
  out.add(FindingLines::always, standing_line());
  return out.text();
}

}  // namespace rimload
