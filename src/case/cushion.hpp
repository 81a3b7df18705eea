// A cushion with its mask and headgear, as a catalogue describes it.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "case/cushion_field.hpp"
#include "contact/mask.hpp"
#include "geometry/rim.hpp"

namespace rimload {

enum class CushionType { nasal, oronasal, below_nose_oronasal, total_face };
[[nodiscard]] std::string_view name_of(CushionType type);
[[nodiscard]] std::string_view words_for(CushionType type);

/// A pair of straps, left and right; the right one is mirrored.
struct StrapPair {
  std::string name;                       ///< such as `upper`
  Vec3 anchor_mask = Vec3::Zero();        ///< of the left one [mm]
  Vec3 exit_from_tragion = Vec3::Zero();  ///< of the left one, facial axes [mm]
  double stiffness_n_mm = 0.2;
  double width_mm = 20;
  std::vector<StrapBearing> bearings;
};

/// One cushion in one size.
struct Cushion {
  std::string name;
  std::string size;
  CushionType type = CushionType::oronasal;
  Rim rim;  ///< whole, from the apex towards the wearer's left
  LipLaw lip;
  double friction = 0.6;
  double apex_below_sellion_mm = 8;
  std::vector<StrapPair> straps;
  std::optional<ForeheadPad> pad;
  std::vector<FrameLoad> masses;
  Vec3 hose_pull_n = Vec3::Zero();
  Vec3 hose_point_mask = Vec3::Zero();
  bool vented = true;
  bool anti_asphyxia_valve = false;
  bool magnets = false;
  bool tube_port = false;             ///< a sealed way through the rim for a feeding tube
  std::string design_face;            ///< the face it was moulded to
  double design_face_scale = 1;       ///< that face so many times as large, about sellion
  std::vector<CushionField> assumed;  ///< taken from a typical cushion, in the order of the enum
  [[nodiscard]] bool is_assumed(CushionField field) const;
};

}  // namespace rimload
