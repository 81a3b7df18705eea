// Pairs of cushions to wear in turn: the less of the same skin both load, the better.
#pragma once

#include <string>
#include <vector>

#include "choice/loaded_skin.hpp"
#include "choice/size_choice.hpp"

namespace rimload {

/// From `data/rotation.json`: conventions of this project, see there.
struct RotationRule {
  double pressed_above = 0;  ///< skin counts as loaded above this pressure [N/mm2]
  double share_step = 0;     ///< shares are alike within such steps
  std::string why;           ///< what the evidence says for it
};
[[nodiscard]] const RotationRule& usual_rotation_rule();

/// Two cushions of other names; the first has the better rank.
struct RotationPair {
  std::size_t first = 0;  ///< index among the candidates
  std::size_t second = 0;
  SharedSkin shared;
  double first_mm2 = 0;  ///< of skin that each loads
  double second_mm2 = 0;
  double worst = 0;                ///< larger of the two worst readings [N/mm2]
  std::vector<Site> under_straps;  ///< sites that straps of both press; not counted as shared
};

/// Every pair among the candidates that fit, the least share of the same skin first; of shares
/// alike the lower worst reading, then the better ranks. Skin counts as loaded where either phase
/// of the breath presses it above `pressed_above`, straps as in the estimate; the share is of the
/// smaller of the two areas. Sizes of one cushion are no pair: they load the same skin.
[[nodiscard]] std::vector<RotationPair> rotation_pairs(
    const SizeChoice& choice, const RotationRule& rule = usual_rotation_rule());

}  // namespace rimload
