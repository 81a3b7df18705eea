#include "choice/rotation.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>
#include <tuple>

#include "choice_data.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

struct Wearable {
  std::size_t index;
  LoadedSkin loaded;
};

LoadedSkin loaded_by(const Estimate& estimate, double above) {
  LoadedSkin out;
  for (const PhaseEstimate& phase : estimate.phases) {
    out =
        united(out, loaded_skin(phase.on_skin, {estimate.face.skin, estimate.face.site_of}, above));
  }
  return out;
}

std::set<Site> strap_sites_of(const Mask& mask) {
  std::set<Site> out;
  for (const Strap& strap : mask.straps) {
    for (const StrapBearing& bearing : strap.bearings) out.insert(bearing.site);
  }
  return out;
}

std::vector<Site> shared_straps(const Mask& a, const Mask& b) {
  const std::set<Site> of_a = strap_sites_of(a);
  const std::set<Site> of_b = strap_sites_of(b);
  std::vector<Site> out;
  std::set_intersection(of_a.begin(), of_a.end(), of_b.begin(), of_b.end(),
                        std::back_inserter(out));
  return out;
}

}  // namespace

const RotationRule& usual_rotation_rule() {
  static const RotationRule rule = [] {
    const auto table = nlohmann::json::parse(data::rotation_json());
    const auto value = [&](const char* key) { return table.at(key).at("value").get<double>(); };
    return RotationRule{.pressed_above = units::from_mmhg(value("pressed_above_mmHg")),
                        .share_step = value("share_step"),
                        .why = table.at("why").at("text").get<std::string>()};
  }();
  return rule;
}

std::vector<RotationPair> rotation_pairs(const SizeChoice& choice, const RotationRule& rule) {
  std::vector<Wearable> wearables;
  for (std::size_t k = 0; k < choice.candidates.size(); ++k) {
    const SizeCandidate& candidate = choice.candidates[k];
    if (!candidate.fits) continue;
    wearables.push_back({k, loaded_by(*candidate.estimate, rule.pressed_above)});
  }
  std::vector<RotationPair> out;
  for (std::size_t i = 0; i < wearables.size(); ++i) {
    for (std::size_t j = i + 1; j < wearables.size(); ++j) {
      const Wearable& a = wearables[i];
      const Wearable& b = wearables[j];
      const SizeCandidate& first = choice.candidates[a.index];
      const SizeCandidate& second = choice.candidates[b.index];
      if (first.cushion.name == second.cushion.name) continue;
      out.push_back({.first = a.index,
                     .second = b.index,
                     .shared = shared_skin(a.loaded, b.loaded),
                     .first_mm2 = a.loaded.area_mm2(),
                     .second_mm2 = b.loaded.area_mm2(),
                     .worst = std::max(first.median_worst(), second.median_worst()),
                     .under_straps = shared_straps(first.estimate->mask, second.estimate->mask)});
    }
  }
  const auto step = [&](const RotationPair& pair) {
    return std::lround(pair.shared.share / rule.share_step);
  };
  std::sort(out.begin(), out.end(), [&](const RotationPair& a, const RotationPair& b) {
    return std::tuple(step(a), a.worst, a.first, a.second) <
           std::tuple(step(b), b.worst, b.first, b.second);
  });
  return out;
}

}  // namespace rimload
