#include "job/strap_changes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include "case/mask_of_case.hpp"
#include "fit/caution.hpp"
#include "fit/dressed.hpp"
#include "fit/parts.hpp"
#include "job/commands.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

std::string in_words(const StrapWindow& window) {
  if (!window.seals) return fmt::format("no tension up to {:g} N seals", strap_tension_limit_n);
  if (window.upper_end == WindowEnd::tension_limit) {
    return fmt::format("from {:.1f} N, no upper edge up to {:g} N", window.sealing_n,
                       strap_tension_limit_n);
  }
  if (window.upper_n <= window.sealing_n) {
    return fmt::format("seals from {:.1f} N, too tight already", window.sealing_n);
  }
  return fmt::format("{:.1f} to {:.1f} N", window.sealing_n, window.upper_n);
}

// Where to look for the edge of a case much like the one swept.
std::optional<double> near_edge(const StrapQuestion& question) {
  const StrapWindow& window = question.sweep.window;
  return window.seals ? std::optional(window.sealing_n) : std::nullopt;
}

// What leaks beside a seal leaves the balance of the mask as it is.
std::string leak_without_obstacles(const StrapQuestion& question) {
  const Case& input = question.input;
  const StrapPoint& edge = question.sweep.edge;
  if (!edge.seated) return {};
  std::vector<std::pair<Case, std::string>> others;
  Case all = input;
  const auto add = [&](const char* words, void (*mend)(Case&)) {
    others.emplace_back(input, words);
    mend(others.back().first);
    mend(all);
  };
  if (input.beard) {
    add("with a strip shaved beneath the rim", [](Case& other) { other.beard.reset(); });
  }
  if (input.tube && !input.tube->through_port) {
    add("with a sealed port for the tube", [](Case& other) { other.tube->through_port = true; });
  }
  if (input.cushion.type == CushionType::nasal && input.mouth != MouthOpening::closed) {
    add("with the mouth closed", [](Case& other) { other.mouth = MouthOpening::closed; });
  }
  if (others.size() > 1) others.emplace_back(all, others.size() > 2 ? "with all" : "with both");
  std::string out;
  for (const auto& [other, words] : others) {
    Trial trial(other, question.worn.face, question.mask);
    const StrapPoint point = strap_point(trial, {edge.upper_n, edge.lower_n});
    out += fmt::format("{}{:.1f} {}", out.empty() ? "" : ", ", units::to_l_per_min(point.mean_leak),
                       words);
  }
  if (out.empty()) return {};
  return fmt::format(
      "Mean leak {} {:.1f} L/min: {}. The window stays as it is, in this model.",
      question.sweep.window.seals ? "just sealed" : "at the tension nearest to sealing",
      units::to_l_per_min(edge.mean_leak), out);
}

// Both sides of the site that ends the window, or is hardest pressed when none does.
std::vector<SidedSite> sites_to_dress(const StrapSweep& sweep) {
  const auto can_be_dressed = [](Site site) {
    return !is_strap_site(site) && site != Site::eyelid && site != Site::tube;
  };
  SidedSite at = sweep.window.upper_site;
  if (sweep.window.upper_end == WindowEnd::tension_limit || !can_be_dressed(at.site)) {
    at = worst_contact(sweep.edge).site;
  }
  if (!can_be_dressed(at.site)) return {};
  if (is_midline(at.site)) return {at};
  return {{at.site, Side::left}, {at.site, Side::right}};
}

// With each dressing of the catalogue thick enough to change the contact.
std::string with_a_dressing(const StrapQuestion& question) {
  const Case& input = question.input;
  const StrapSweep& sweep = question.sweep;
  if (!input.dressings || !sweep.window.seals) return {};
  constexpr double film_mm = 0.1;
  std::vector<Dressing> kinds = input.dressings->dressings;
  std::erase_if(kinds, [&](const Dressing& kind) { return kind.thickness_mm < film_mm; });
  const std::vector<SidedSite> sites = sites_to_dress(sweep);
  if (kinds.empty() || sites.empty()) return {};
  StrapSetting sealed{std::vector<double>(question.mask.straps.size(), sweep.window.sealing_n), {}};
  const Estimate bare = estimate_at(
      {.input = input, .face = question.bare, .mask = question.mask, .straps = std::move(sealed)});
  if (!bare.phases.front().seated) return {};
  std::string out;
  for (const Dressing& kind : kinds) {
    std::vector<WornDressing> worn;
    worn.reserve(sites.size());
    for (const SidedSite& site : sites) worn.push_back({site, kind});
    const FaceInUse face = with_pieces(bare, pieces_of(bare, worn));
    out +=
        fmt::format("{}{} {}", out.empty() ? "" : "; ", kind.name,
                    in_words(find_strap_window(input, face, question.mask, near_edge(question))));
  }
  return fmt::format("With a dressing on the {}: {}.", words_for(sites.front().site), out);
}

std::string without_dressings(const StrapQuestion& question) {
  const StrapWindow bare =
      find_strap_window(question.input, question.bare, question.mask, near_edge(question));
  return fmt::format("Without the dressing{}: {}.", question.worn.pieces.size() > 1 ? "s" : "",
                     in_words(bare));
}

std::string other_sizes(const StrapQuestion& question) {
  std::string out;
  for (const Cushion& cushion : question.input.catalogue) {
    const Cushion& own = question.input.cushion;
    if (cushion.name != own.name || cushion.size == own.size) continue;
    Case other = question.input;
    other.cushion = cushion;
    out += fmt::format("{}size {} {}", out.empty() ? "" : "; ", cushion.size,
                       in_words(find_strap_window(other, face_as_worn(other, question.bare).face,
                                                  make_mask(other), near_edge(question))));
  }
  return out.empty() ? out : "Other sizes on this face: " + out + ".";
}

std::string less_pressure(const StrapQuestion& question) {
  const Settings& settings = question.input.settings;
  const double less = units::from_cmh2o(2);
  const double least = units::from_cmh2o(3);
  Case gentler = question.input;
  double& pressure = settings.bilevel ? gentler.settings.inspiratory : gentler.settings.expiratory;
  if (pressure - less < std::max(least, settings.bilevel ? settings.expiratory : 0)) return {};
  pressure -= less;
  if (!settings.bilevel) gentler.settings.inspiratory = pressure;
  return fmt::format(
      "With 2 cmH2O less{}: {}. Pressure is prescribed, not a strap setting.",
      settings.bilevel ? " in inspiration" : "",
      in_words(find_strap_window(gentler, question.worn.face, question.mask, near_edge(question))));
}

}  // namespace

std::vector<std::string> strap_changes(const StrapQuestion& question) {
  const bool dressed = !question.worn.pieces.empty();
  const std::array tries{leak_without_obstacles, dressed ? without_dressings : with_a_dressing,
                         other_sizes, less_pressure};
  std::vector<std::string> out(tries.size());
  run_parts(static_cast<int>(tries.size()), n_threads_here(), [&](int k) {
    const auto at = static_cast<std::size_t>(k);
    out[at] = tries[at](question);
  });
  std::erase(out, std::string());
  return out;
}

}  // namespace rimload
