// The skin that a cushion loads, and how much of it another loads too.
#pragma once

#include <map>
#include <span>
#include <vector>

#include "contact/equilibrium.hpp"
#include "geometry/site.hpp"
#include "geometry/skin_map.hpp"

namespace rimload {

/// A square of the skin's chart, 0.5 mm wide and as tall; the midline runs between two columns.
struct SkinCell {
  int column = 0;  ///< along u, 0 just left of the midline (the wearer's)
  int row = 0;     ///< along v, 0 just above sellion
  double area_mm2 = 0;
  SidedSite site;
};

/// Skin under rim and pad that is pressed above a pressure.
struct LoadedSkin {
  std::vector<SkinCell> cells;  ///< by row, then column; none twice
  [[nodiscard]] double area_mm2() const;
};

/// Where samples lie on the skin of a face.
struct SkinUnder {
  const SkinMap& skin;
  const SiteFinder& site_of;
};

/// Each sample's pressure holds over its own cell, from half-way to its neighbours; a square of the
/// chart is loaded when its middle lies in a cell pressed above `above`. Eyelids count like other
/// skin.
/// @param samples of one phase: the rim station by station, then the pad row by row
/// @param above [N/mm2]
[[nodiscard]] LoadedSkin loaded_skin(std::span<const ContactSample> samples, const SkinUnder& under,
                                     double above);

/// The skin that either loads: two phases of one breath.
[[nodiscard]] LoadedSkin united(const LoadedSkin& a, const LoadedSkin& b);

/// The skin of one face that two cushions load.
struct SharedSkin {
  double area_mm2 = 0;
  double share = 0;  ///< of the smaller of the two areas, 0 to 1; 0 when either loads none
  std::map<SidedSite, double> by_site;  ///< areas [mm2], sites that share any
};
[[nodiscard]] SharedSkin shared_skin(const LoadedSkin& a, const LoadedSkin& b);

}  // namespace rimload
