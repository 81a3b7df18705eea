// What an estimate takes for granted and can't know, drawn within its ranges.
#pragma once

#include <array>
#include <string_view>
#include <vector>

#include "fit/estimate.hpp"

namespace rimload {

/// The inputs that are drawn.
enum class Driver { tissue, poisson, lip, friction, seal_margin, straps, face };
[[nodiscard]] std::string_view name_of(Driver driver);
/// In words, such as `stiffness of the tissue`.
[[nodiscard]] std::string_view words_for(Driver driver);
inline constexpr std::array all_drivers{Driver::tissue,   Driver::poisson,     Driver::lip,
                                        Driver::friction, Driver::seal_margin, Driver::straps,
                                        Driver::face};

/// One draw.
struct UncertainInputs {
  double tissue_factor = 1;  ///< on every modulus of tissue
  double poisson = FaceInUse::default_poisson;
  double lip_factor = 1;    ///< on the lip's stiffness, bottomed or not
  double friction = 0.6;    ///< of the cushion on bare skin
  double sealed_above = 0;  ///< margin that seals [N/mm2]
  double strap_factor = 1;  ///< on every tension that a hand sets
  unsigned face_seed = 0;   ///< of the face, where it is drawn
};

/// The first n points of Sobol's sequence [Sobol 1967] in the ranges of `data/uncertainty.json`,
/// moved by the seed (a shift modulo 1, Cranley & Patterson 1976).
/// @param n at least 1
[[nodiscard]] std::vector<UncertainInputs> uncertain_draws(int n, unsigned seed);

/// Where a draw lies in its ranges, 0 to 1 each, in the order of `all_drivers` less the face.
[[nodiscard]] std::array<double, 6> fractions_of(const UncertainInputs& inputs);

/// A face, a mask and a case as one draw has them.
[[nodiscard]] FaceInUse with_inputs(const FaceInUse& face, const UncertainInputs& inputs);
[[nodiscard]] Mask with_inputs(Mask mask, const UncertainInputs& inputs);
[[nodiscard]] Case with_inputs(Case input, const UncertainInputs& inputs);

/// 10, 50 and 90 % of values.
struct ValueBand {
  double low = 0;
  double median = 0;
  double high = 0;
};
/// By straight lines between the sorted values; of one value that value.
/// @pre values not empty
[[nodiscard]] ValueBand band_of(std::vector<double> values);

/// Spearman's rank correlation, ties at their mean rank; 0 when either does not vary.
/// @pre as many of one as of the other, at least 2
[[nodiscard]] double rank_correlation(const std::vector<double>& a, const std::vector<double>& b);

}  // namespace rimload
