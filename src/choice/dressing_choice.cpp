#include "choice/dressing_choice.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <numeric>

#include "fit/caution.hpp"
#include "fit/fit.hpp"
#include "fit/parts.hpp"
#include "fit/strap_window.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

bool holds(std::span<const WornPiece> pieces, const SidedSite& site) {
  return std::any_of(pieces.begin(), pieces.end(),
                     [&](const WornPiece& piece) { return piece.place.site == site; });
}

PlaceReading reading_at(const BreathReading& breath, std::span<const DressingPlace> places) {
  PlaceReading out;
  for (const SitePressure& each : breath.sites) {
    const SidedSite site{each.site, each.side};
    const bool here = std::any_of(places.begin(), places.end(),
                                  [&](const DressingPlace& place) { return place.site == site; });
    if (!here) continue;
    out.sensor = std::max(out.sensor, each.sensor);
    out.peak = std::max(out.peak, each.peak);
    out.shear = std::max(out.shear, each.shear_peak);
    out.contact_mm2 += each.contact_area;
  }
  return out;
}

std::string mmhg(double pressure) { return fmt::format("{:.0f}", units::to_mmhg(pressure)); }

// Everything solved against the same bare mask.
class Trials {
 public:
  Trials(const Estimate& bare, const ChoiceRule& rule) : bare_(bare), rule_(rule) {
    const std::vector<double>& tension = bare.strap_tension_n;
    mean_n_ =
        std::accumulate(tension.begin(), tension.end(), 0.0) / static_cast<double>(tension.size());
    for (const double each : tension) proportion_.push_back(mean_n_ > 0 ? each / mean_n_ : 1);
  }

  struct Solved {
    SettingReading same_straps;
    std::optional<SettingReading> just_sealed;
    Balances balances;  ///< then
  };
  [[nodiscard]] Solved solve(const FaceInUse& face, double near_n) const {
    Trial trial(bare_.input, face, bare_.mask, bare_.placement);
    trial.set_straps(bare_.strap_tension_n);
    trial.start_from(balances_of(bare_.phases));
    Solved out;
    out.same_straps = {mean_n_, read_breath(trial)};
    const StrapWindow window = find_just_sealed(trial, proportion_, near_n);
    if (!window.seals) return out;
    trial.set_straps(tensions(window.sealing_n));
    const BreathReading breath = read_breath(trial);
    if (breath.seated) out.just_sealed = {window.sealing_n, breath};
    out.balances = trial.balances();
    return out;
  }

  [[nodiscard]] std::vector<double> tensions(double mean_n) const {
    std::vector<double> out = proportion_;
    for (double& each : out) each *= mean_n;
    return out;
  }

  [[nodiscard]] StrapSetting setting(double mean_n) const {
    return {tensions(mean_n),
            fmt::format("{:.1f} N a strap, the lowest tension that seals", mean_n)};
  }

  [[nodiscard]] double mean_n() const { return mean_n_; }

  // What pieces are compared with: the mask just sealed without them.
  struct Baseline {
    const Estimate& estimate;
    const SettingReading& just_sealed;
  };
  // What pieces do, judged at some places of theirs.
  [[nodiscard]] DressingOption try_on(std::vector<WornPiece> pieces, const DressedPlace& place,
                                      const Baseline& before) const {
    DressingOption out;
    FaceInUse face = with_pieces(bare_, pieces);
    Solved solved = solve(face, before.just_sealed.mean_n);
    out.pieces = std::move(pieces);
    out.same_straps = solved.same_straps;
    out.just_sealed = solved.just_sealed;
    if (!out.just_sealed) {
      out.why = fmt::format("no strap tension up to {:g} N seals with it", strap_tension_limit_n);
      return out;
    }
    out.place = reading_at(out.just_sealed->breath, place.places);
    const Estimate dressed =
        estimate_dressed(bare_, std::move(face), out.pieces, setting(out.just_sealed->mean_n),
                         std::move(solved.balances));
    out.section = site_section(dressed, place.places[0].site.site, std::nullopt);
    out.flags = dressing_flags(before.estimate, dressed, rule_);
    find_next_door(before.just_sealed.breath, out);
    judge(place, before.just_sealed.breath, out);
    return out;
  }

 private:
  static void find_next_door(const BreathReading& bare, DressingOption& out) {
    const BreathReading& dressed = out.just_sealed->breath;
    for (std::size_t k = 0; k < bare.sites.size(); ++k) {
      const SitePressure& was = bare.sites[k];
      const SitePressure& is = dressed.sites[k];
      const SidedSite site{was.site, was.side};
      if (is_strap_site(was.site) || was.site == Site::eyelid || was.site == Site::tube) continue;
      if (holds(out.pieces, site) || is.sensor <= 0) continue;
      if (out.next_door && is.sensor - was.sensor <= out.next_door_after - out.next_door_before) {
        continue;
      }
      out.next_door = site;
      out.next_door_before = was.sensor;
      out.next_door_after = is.sensor;
    }
  }

  void judge(const DressedPlace& place, const BreathReading& before, DressingOption& out) const {
    if (!out.section || !place.section) {
      out.why = "the rim doesn't press the place just sealed";
      return;
    }
    const double strain = tissue_strain(*out.section);
    const double bare = tissue_strain(*place.section);
    out.why =
        fmt::format("strain in the tissue {:.0f} to {:.0f} %, reading {} to {} mmHg", 100 * bare,
                    100 * strain, mmhg(place.bare.sensor), mmhg(out.place.sensor));
    if (strain > (1 - rule_.helps_by) * bare) {
      out.why += strain > bare ? ": no relief"
                               : fmt::format(": less than {:.0f} % relief", 100 * rule_.helps_by);
      return;
    }
    if (out.place.sensor > (1 + rule_.harm_by) * place.bare.sensor) {
      out.why += ": less strain, but more load on the place";
      return;
    }
    const double counts = window_share * worst_contact(before).sensor;
    if (out.next_door && out.next_door_after >= counts &&
        out.next_door_after > (1 + rule_.harm_by) * out.next_door_before) {
      out.why += fmt::format(", but the {} goes from {} to {} mmHg", place_words(*out.next_door),
                             mmhg(out.next_door_before), mmhg(out.next_door_after));
      return;
    }
    if (!out.pieces[0].dressing.cut_to_size) {
      out.why += ": it may not be cut to the place";
      return;
    }
    out.helps = true;
  }

  const Estimate& bare_;
  const ChoiceRule& rule_;
  double mean_n_ = 0;
  std::vector<double> proportion_;
};

// Places that need a dressing, left and right together.
std::vector<DressedPlace> paired(const std::vector<DressingPlace>& places) {
  std::vector<DressedPlace> out;
  for (const DressingPlace& place : places) {
    const auto twin = std::find_if(out.begin(), out.end(), [&](const DressedPlace& each) {
      return each.places.front().site.site == place.site.site;
    });
    if (twin != out.end()) {
      twin->places.push_back(place);
    } else {
      out.emplace_back();
      out.back().places.push_back(place);
    }
  }
  return out;
}

void find_best(const ChoiceRule& rule, DressedPlace& place) {
  for (std::size_t k = 0; k < place.options.size(); ++k) {
    const DressingOption& option = place.options[k];
    if (!option.helps) continue;
    if (!place.best) {
      place.best = k;
      continue;
    }
    const DressingOption& best = place.options[*place.best];
    const double ratio = tissue_strain(*option.section) / tissue_strain(*best.section);
    const bool alike = std::abs(ratio - 1) < rule.alike_within;
    const bool thinner =
        option.pieces[0].dressing.thickness_mm < best.pieces[0].dressing.thickness_mm;
    if (alike ? thinner : ratio < 1) place.best = k;
  }
}

// Every kind of the catalogue at every place, and what is best at each.
void compare_kinds(const Trials& trials, const ChoiceRule& rule, int n_threads,
                   const Progress& progress, DressingChoice& choice) {
  std::vector<DressedPlace*> places;
  for (DressedPlace& place : choice.places) places.push_back(&place);
  if (choice.everywhere) places.push_back(&*choice.everywhere);
  const std::vector<Dressing>& kinds = choice.bare.input.dressings->dressings;
  for (DressedPlace* place : places) {
    place->bare = reading_at(choice.just_sealed.breath, place->places);
    place->section = site_section(*choice.before, place->places[0].site.site, std::nullopt);
    place->options.resize(kinds.size());
  }
  const auto try_one = [&](int part) {
    DressedPlace& place = *places[static_cast<std::size_t>(part) / kinds.size()];
    const std::size_t kind = static_cast<std::size_t>(part) % kinds.size();
    std::vector<WornPiece> pieces;
    for (const DressingPlace& each : place.places) pieces.push_back({each, kinds[kind]});
    place.options[kind] =
        trials.try_on(std::move(pieces), place, {*choice.before, choice.just_sealed});
  };
  run_parts(static_cast<int>(places.size() * kinds.size()), n_threads, try_one, progress);
  for (DressedPlace* place : places) find_best(rule, *place);
}

void choose_together(const Trials& trials, DressingChoice& choice) {
  SettingReading before = choice.just_sealed;
  for (const DressedPlace& place : choice.places) {
    if (!place.best) continue;
    const DressingOption& best = place.options[*place.best];
    std::vector<WornPiece> pieces = choice.chosen;
    pieces.insert(pieces.end(), best.pieces.begin(), best.pieces.end());
    if (choice.chosen.empty()) {
      choice.chosen = std::move(pieces);
      before = *best.just_sealed;
      continue;
    }
    const Estimate so_far = estimate_dressed(choice.bare, with_pieces(choice.bare, choice.chosen),
                                             choice.chosen, trials.setting(before.mean_n));
    DressedPlace here;
    here.places = place.places;
    here.bare = reading_at(before.breath, place.places);
    here.section = site_section(so_far, place.places[0].site.site, std::nullopt);
    DressingOption together = trials.try_on(std::move(pieces), here, {so_far, before});
    if (!together.helps) {
      choice.left_off.push_back(fmt::format("{} at the {}: beside the others {}",
                                            best.pieces[0].dressing.name,
                                            place_words(place.places[0].site), together.why));
      continue;
    }
    before = *together.just_sealed;
    choice.chosen = std::move(together.pieces);
  }
}

}  // namespace

double tissue_strain(const SiteSection& section) {
  return std::max(section.answer.skin.compression, section.answer.fat.compression);
}

DressingChoice choose_dressings(const Case& input, int n_threads, const Progress& progress,
                                const ChoiceRule& rule) {
  assert(input.dressings);
  Case without = input;
  without.worn.clear();
  DressingChoice out{.bare = estimate_fit(without)};
  out.worn_left_aside = !input.worn.empty();
  const auto seats = [](const PhaseEstimate& phase) { return phase.seated; };
  if (!std::all_of(out.bare.phases.begin(), out.bare.phases.end(), seats)) return out;
  const Trials trials(out.bare, rule);
  Trials::Solved bare = trials.solve(out.bare.face, trials.mean_n());
  out.same_straps = bare.same_straps;
  if (!bare.just_sealed) return out;
  out.just_sealed = *bare.just_sealed;
  out.before = estimate_dressed(out.bare, out.bare.face, {}, trials.setting(out.just_sealed.mean_n),
                                std::move(bare.balances));

  out.places = paired(out.bare.dressing_places);
  if (out.places.size() > 1) {
    out.everywhere.emplace();
    out.everywhere->places = out.bare.dressing_places;
  }
  compare_kinds(trials, rule, n_threads, progress, out);
  choose_together(trials, out);
  if (out.chosen.empty() && out.everywhere && out.everywhere->best) {
    out.chosen = out.everywhere->options[*out.everywhere->best].pieces;
  }
  if (!out.chosen.empty()) {
    FaceInUse face = with_pieces(out.bare, out.chosen);
    Trials::Solved chosen = trials.solve(face, out.just_sealed.mean_n);
    out.after =
        estimate_dressed(out.bare, std::move(face), out.chosen,
                         trials.setting(chosen.just_sealed->mean_n), std::move(chosen.balances));
  }
  return out;
}

}  // namespace rimload
