// What an estimate takes for granted and can't know, drawn within its ranges.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "fit/assumed_cushion.hpp"
#include "fit/estimate.hpp"

namespace rimload {

/// One draw.
struct UncertainInputs {
  double tissue_factor = 1;  ///< on every modulus of tissue
  double poisson = FaceInUse::default_poisson;
  double lip_factor = 1;                          ///< on the lip's stiffness, bottomed or not
  double friction = 0.6;                          ///< of the cushion on bare skin
  double sealed_above = 0;                        ///< margin that seals [N/mm2]
  double strap_factor = 1;                        ///< on every tension that a hand sets
  unsigned face_seed = 0;                         ///< of the face, where it is drawn
  AssumedFractions assumed = middle_fractions();  ///< of what is assumed of a cushion
};

/// The first n points of Sobol's sequence [Sobol 1967] in the ranges of `data/uncertainty.json`,
/// moved by the seed (a shift modulo 1, Cranley & Patterson 1976). What is drawn for assumed
/// dimensions of a cushion stands beside the rest and changes none of it.
/// @param n at least 1
[[nodiscard]] std::vector<UncertainInputs> uncertain_draws(int n, unsigned seed);

/// Where a draw lies in its ranges, 0 to 1 each, in the order of `all_drivers`.
[[nodiscard]] std::array<double, 6> fractions_of(const UncertainInputs& inputs);

/// A face, a mask and a case as one draw has them; the case's cushion with it, in what is assumed
/// of it. Make the mask of the case, then give it the draw.
[[nodiscard]] FaceInUse with_inputs(const FaceInUse& face, const UncertainInputs& inputs);
[[nodiscard]] Mask with_inputs(Mask mask, const UncertainInputs& inputs);
[[nodiscard]] Case with_inputs(Case input, const UncertainInputs& inputs);

/// By straight lines between the sorted values; of one value that value.
/// @pre values not empty
[[nodiscard]] ValueBand band_of(std::vector<double> values);

/// The same of values that count by their weights; of equal ones the same bits as without.
/// @pre as many weights as values, 0 or more, not all 0
[[nodiscard]] ValueBand band_of(const std::vector<double>& values,
                                const std::vector<double>& weights);

/// How values over draws go with each of the inputs, the strongest first: those of every cushion
/// and what is assumed of this one. Empty for fewer than ten.
/// @pre as many values as draws
[[nodiscard]] std::vector<DriverShare> drivers_of(std::span<const UncertainInputs> draws,
                                                  const std::vector<double>& values,
                                                  const Cushion& cushion);

/// A face for each draw where the case's was measured or scanned; none where it is taken as it
/// stands.
[[nodiscard]] std::vector<FaceModel> faces_of_draws(const Case& input,
                                                    std::span<const UncertainInputs> draws);

/// Spearman's rank correlation, ties at their mean rank; 0 when either does not vary.
/// @pre as many of one as of the other, at least 2
[[nodiscard]] double rank_correlation(const std::vector<double>& a, const std::vector<double>& b);

}  // namespace rimload
