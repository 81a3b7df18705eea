// A mask as the engine sees it: rim, lip, pad, straps, weight. Mask frame unless said otherwise.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/rim.hpp"
#include "geometry/site.hpp"
#include "geometry/vec.hpp"
#include "material/cushion_law.hpp"

namespace rimload {

/// Skin that a strap presses on its way round the head: p = T / (radius x width).
struct StrapBearing {
  Site site = Site::ear_top;
  double radius_mm = 80;  ///< of the head there
};

/// One elastic strap, straight from the frame to where it meets the head.
struct Strap {
  std::string name;  ///< such as `upper_left`
  Side side = Side::left;
  Vec3 anchor_mask = Vec3::Zero();  ///< on the frame
  Vec3 exit_face = Vec3::Zero();    ///< where it meets the head, facial frame
  double stiffness_n_mm = 0.2;      ///< tension per stretch [N/mm], 0.05 to 2
  double width_mm = 20;             ///< of the band
  std::vector<StrapBearing> bearings;
};

/// Optional pad on the forehead, an elastic layer on the rigid frame.
struct ForeheadPad {
  Vec3 centre_mask = Vec3::Zero();
  double width_mm = 40;
  double height_mm = 12;
  double lean_rad = 0;            ///< of its face about x, positive looks down
  double stiffness_n_mm3 = 2e-3;  ///< pressure per compression [N/mm3]
};

/// A weight or a steady pull on the frame.
struct FrameLoad {
  Vec3 point_mask = Vec3::Zero();
  double mass_kg = 0;
};

/// Everything of a mask that the equilibrium needs.
struct Mask {
  SampledRim rim;
  LipLaw lip;
  std::vector<Strap> straps;
  std::optional<ForeheadPad> pad;
  std::vector<FrameLoad> masses;    ///< mask body and hose share
  Vec3 hose_pull_n = Vec3::Zero();  ///< steady pull of the hose, facial frame [N]
  Vec3 hose_point_mask = Vec3::Zero();
  double friction = 0.6;             ///< mu between lip and skin
  double apex_below_sellion_mm = 8;  ///< placement of the rim's apex; negative lies above
};

}  // namespace rimload
