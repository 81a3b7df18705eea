#include "choice/dressing_flag.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <limits>
#include <optional>

#include "fit/caution.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

class Flags {
 public:
  Flags(const Estimate& before, const Estimate& after, const ChoiceRule& rule)
      : before_(before), after_(after), rule_(rule) {}

  std::vector<DressingFlag> all() {
    const std::vector<WornPiece>& pieces = after_.worn;
    for (std::size_t k = 0; k < pieces.size(); ++k) {
      const bool first_of_kind = std::none_of(
          pieces.begin(), pieces.begin() + static_cast<std::ptrdiff_t>(k),
          [&](const WornPiece& piece) { return piece.dressing.name == pieces[k].dressing.name; });
      if (first_of_kind) {
        look_at_bulk(pieces[k].dressing);
        look_at_edge(pieces[k].dressing);
      }
      // Of a pair the first stands for both.
      if (is_second_of_pair(k)) continue;
      look_at_size(pieces[k]);
      look_at_stiffness(pieces[k]);
      look_at_neighbours(pieces[k]);
      for (std::size_t other = 0; other < k; ++other) {
        if (pieces[other].dressing.name != pieces[k].dressing.name) {
          look_at_stack(pieces[other], pieces[k]);
        }
      }
    }
    return std::move(out_);
  }

 private:
  void add(DressingWarning warning, std::string text) {
    out_.push_back({warning, std::move(text)});
  }

  [[nodiscard]] bool is_second_of_pair(std::size_t k) const {
    const std::vector<WornPiece>& pieces = after_.worn;
    return std::any_of(pieces.begin(), pieces.begin() + static_cast<std::ptrdiff_t>(k),
                       [&](const WornPiece& piece) {
                         return piece.place.site.site == pieces[k].place.site.site &&
                                piece.dressing.name == pieces[k].dressing.name;
                       });
  }

  // With its side unless both sides wear the same.
  [[nodiscard]] std::string place_of(const WornPiece& piece) const {
    const SidedSite twin{piece.place.site.site, mirrored(piece.place.site.side)};
    const bool pair =
        piece.place.site.side != Side::midline &&
        std::any_of(after_.worn.begin(), after_.worn.end(), [&](const WornPiece& each) {
          return each.place.site == twin && each.dressing.name == piece.dressing.name;
        });
    return pair ? std::string(words_for(piece.place.site.site)) : place_words(piece.place.site);
  }

  void look_at_bulk(const Dressing& dressing) {
    if (dressing.thickness_mm < rule_.bulky_mm) return;
    add(DressingWarning::bulk,
        fmt::format("{} is {:.1f} mm thick: bulk under a tight mask adds pressure.", dressing.name,
                    dressing.thickness_mm));
  }

  void look_at_size(const WornPiece& piece) {
    const Dressing& dressing = piece.dressing;
    const DressingPlace& place = piece.place;
    const double longer = std::max(place.length_mm, place.width_mm);
    const double shorter = std::min(place.length_mm, place.width_mm);
    const DressingSize* largest = nullptr;
    for (const DressingSize& size : dressing.sizes) {
      if (!largest || size.length_mm * size.width_mm > largest->length_mm * largest->width_mm) {
        largest = &size;
      }
      if (size.length_mm >= longer && size.width_mm >= shorter && dressing.cut_to_size) return;
    }
    if (!largest) return;
    const std::string sold = fmt::format("{:g} x {:g} mm", largest->length_mm, largest->width_mm);
    const std::string needed =
        fmt::format("the {} takes {:.0f} x {:.0f} mm", place_words(place.site), longer, shorter);
    if (!dressing.cut_to_size) {
      add(DressingWarning::size, fmt::format("{} may not be cut and is sold as {} at most; {}.",
                                             dressing.name, sold, needed));
    } else {
      add(DressingWarning::size, fmt::format("{} is sold as {} at most; {}: it takes two pieces.",
                                             dressing.name, sold, needed));
    }
  }

  void look_at_stiffness(const WornPiece& piece) {
    const auto reading =
        std::find_if(before_.phases.front().sites.begin(), before_.phases.front().sites.end(),
                     [&](const SitePressure& site) {
                       return SidedSite{site.site, site.side} == piece.place.site;
                     });
    if (reading == before_.phases.front().sites.end()) return;
    const double tissue = before_.face.tissue.at(SkinMap::chart(reading->sensor_at)).youngs_n_mm2;
    const double layer = stiffness_of(piece.dressing, before_.input.skin.moisture).compressive;
    const double ratio = layer / tissue;
    if (ratio < rule_.stiffness_ratio && ratio > 1 / rule_.stiffness_ratio) return;
    add(DressingWarning::stiffness,
        fmt::format("{} is {:.0f} kPa in compression, the tissue of the {} about {:.0f}: padding "
                    "should be about as stiff (Gefen 2022).",
                    piece.dressing.name, units::to_kpa(layer), place_of(piece),
                    units::to_kpa(tissue)));
  }

  // Where the rim crosses the bevel of what is cut from one dressing.
  void look_at_edge(const Dressing& dressing) {
    CoverPatch patch;
    for (const WornPiece& piece : after_.worn) {
      if (piece.dressing.name != dressing.name) continue;
      CoverPatch one = cover_patch(piece, after_.input.skin.moisture);
      one.outlines.insert(one.outlines.end(), patch.outlines.begin(), patch.outlines.end());
      patch = std::move(one);
    }
    const SkinCover cover(after_.face.skin, {&patch, 1}, after_.mask.friction);
    const auto& with = after_.phases.front().on_skin;
    const auto& without = before_.phases.front().on_skin;
    double worst = 0;
    double bare = 0;
    SidedSite where;
    for (std::size_t k = 0; k < without.size(); ++k) {
      const double share = cover.at(SkinMap::chart(with[k].foot)).thickness_mm / patch.thickness_mm;
      constexpr double least = 0.05;
      if (share < least || share > 1 - least || with[k].pressure <= worst) continue;
      worst = with[k].pressure;
      bare = without[k].pressure;
      where = after_.face.site_of(with[k].foot);
    }
    if (worst <= (1 + rule_.edge_rise) * bare) return;
    add(DressingWarning::edge,
        fmt::format("The rim crosses the edge of {} at the {}: {:.0f} mmHg there, {:.0f} on bare "
                    "skin.",
                    dressing.name, place_words(where), units::to_mmhg(worst),
                    units::to_mmhg(bare)));
  }

  void look_at_neighbours(const WornPiece& piece) {
    constexpr std::array eyes{"endocanthion", "exocanthion", "lid_lower", "lid_front"};
    constexpr std::array nostrils{"nostril_sill"};
    constexpr std::array mouth{"cheilion", "crista_philtri", "lower_lip_lateral"};
    keep_clear(piece, eyes, DressingWarning::near_eye, "eye");
    keep_clear(piece, nostrils, DressingWarning::near_nostril, "nostril");
    keep_clear(piece, mouth, DressingWarning::near_mouth, "mouth");
  }

  void keep_clear(const WornPiece& piece, std::span<const char* const> landmarks,
                  DressingWarning warning, const char* words) {
    double least = std::numeric_limits<double>::infinity();
    for (const Landmark& landmark : after_.input.face.landmarks) {
      if (std::find(landmarks.begin(), landmarks.end(), landmark.name) == landmarks.end()) continue;
      for (const Vec3& corner : piece.place.outline) {
        least = std::min(least, (corner - landmark.position_face).norm());
      }
    }
    if (least >= rule_.clear_of_mm) return;
    add(warning, fmt::format("The piece at the {} comes within {:.0f} mm of the {}: trim it there.",
                             place_of(piece), least, words));
  }

  void look_at_stack(const WornPiece& under, const WornPiece& over) {
    const CoverPatch patch = cover_patch(under, after_.input.skin.moisture);
    const SkinCover cover(after_.face.skin, {&patch, 1}, after_.mask.friction);
    const bool overlap =
        std::any_of(over.place.outline.begin(), over.place.outline.end(), [&](const Vec3& corner) {
          return cover.at(SkinMap::chart(corner)).thickness_mm > 0.5 * patch.thickness_mm;
        });
    if (!overlap) return;
    add(DressingWarning::stacking,
        fmt::format("The pieces at the {} and the {} overlap: butt their edges or cut one piece, "
                    "don't stack them.",
                    place_of(under), place_of(over)));
  }

  const Estimate& before_;
  const Estimate& after_;
  const ChoiceRule& rule_;
  std::vector<DressingFlag> out_;
};

}  // namespace

std::string_view name_of(DressingWarning warning) {
  switch (warning) {
    case DressingWarning::stacking: return "stacking";
    case DressingWarning::stiffness: return "stiffness";
    case DressingWarning::edge: return "edge";
    case DressingWarning::near_eye: return "near_eye";
    case DressingWarning::near_nostril: return "near_nostril";
    case DressingWarning::near_mouth: return "near_mouth";
    case DressingWarning::size: return "size";
    case DressingWarning::bulk: break;
  }
  return "bulk";
}

std::vector<DressingFlag> dressing_flags(const Estimate& before, const Estimate& after,
                                         const ChoiceRule& rule) {
  return Flags(before, after, rule).all();
}

}  // namespace rimload
