// Whether each station of a rim seals, and what passes where it does not.
#pragma once

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "contact/equilibrium.hpp"
#include "geometry/site.hpp"
#include "geometry/vec.hpp"
#include "leak/obstacles.hpp"
#include "leak/slot_flow.hpp"

namespace rimload {

/// Where a jet of leaking gas points.
enum class JetDirection { left_eye, right_eye, nose, cheek, jawline, mouth, forehead };
[[nodiscard]] std::string_view name_of(JetDirection direction);
[[nodiscard]] std::string_view words_for(JetDirection direction);
[[nodiscard]] bool is_at_eye(JetDirection direction);

/// Why gas passes: a gap or too little contact, hair, or a tube.
enum class LeakCause { fit, beard, tube };
[[nodiscard]] std::string_view name_of(LeakCause cause);

/// The seal at one station.
struct StationSeal {
  double margin = 0;                 ///< largest contact pressure across, less gas pressure [N/mm2]
  double least_gap_mm = 0;           ///< of the samples across, 0 where one touches
  double openness = 0;               ///< 0 sealed to 1 open
  double gap_mm = 0;                 ///< height of the passage, 0 when sealed
  double flow = 0;                   ///< [mm3/s], of the gap, the beard and the tube together
  LeakCause cause = LeakCause::fit;  ///< of the largest part of the flow
  SidedSite site;
};

struct SealSummary {
  std::vector<StationSeal> stations;
  double sealed_fraction = 0;  ///< by arc length
  std::size_t weakest_station = 0;
  double weakest_margin = 0;  ///< [N/mm2]
  SidedSite weakest_site;
};

/// A run of neighbouring stations that leak.
struct LeakSegment {
  SidedSite site;
  JetDirection direction = JetDirection::cheek;
  LeakCause cause = LeakCause::fit;
  double length_mm = 0;
  double gap_max_mm = 0;
  double flow = 0;              ///< [mm3/s]
  Vec3 at_face = Vec3::Zero();  ///< on the skin, half the flow on either side [mm]
  Vec3 towards = Vec3::Zero();  ///< unit, out of the mask along the skin
};

struct LeakSummary {
  double total = 0;                   ///< [mm3/s], mouth's and port's included
  double mouth = 0;                   ///< through an open mouth under a nasal mask [mm3/s]
  double port = 0;                    ///< around a tube through the cushion's port [mm3/s]
  std::vector<LeakSegment> segments;  ///< largest flow first, eye-directed ones before others
};

/// Seal and leak of a rim in balance, station by station.
///
/// The lip of a leaking station lifts by what its contact lacks, over the lip's stiffness k:
/// lift = openness (P + sealed_above - max(p, phi P))/k, on top of the geometric gap; a gas-backed
/// lip is held down by its share phi of the gas. Flow: `slot_flow` along the samples across; where
/// a beard grows that of `bed_flow` beside it, through the samples that touch; where a tube crosses
/// that of `tube_channel`. Margins and `sealed_fraction` are of the lip on bare skin.
/// Not modelled: a lip that creases when over-tightened and then leaks more.
[[nodiscard]] SealSummary rim_seal(const PhaseState& state, const Mask& mask,
                                   const SiteFinder& site_of, const Gas& gas,
                                   const UnderLip& under = {});

/// The weakest site, and its twin where that is as weak but for rounding.
[[nodiscard]] std::vector<SidedSite> weakest_sites(const SealSummary& seal);

/// Groups leaking stations into segments and says where each jet points.
/// @param landmarks both sides; eyes are found by `lid_front`
[[nodiscard]] LeakSummary rim_leak(const SealSummary& seal, const PhaseState& state,
                                   const Mask& mask, std::span<const Landmark> landmarks);

}  // namespace rimload
