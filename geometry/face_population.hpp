// Published dimensions of a population of faces: means, spreads and how they go together.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/measurement.hpp"

namespace rimload {

enum class Sex { female, male };
[[nodiscard]] std::string_view name_of(Sex sex);
[[nodiscard]] std::optional<Sex> sex_named(std::string_view name);

/// Whose faces. What is not said is left open: both sexes in equal shares, an adult.
struct PopulationQuery {
  std::optional<Sex> sex = {};
  std::optional<double> age_years = {};
  /// Within a sex, between dimensions without a published correlation, 0 to 0.5; by default that
  /// of `face-models/targets.json`.
  std::optional<double> correlation = {};
};

/// A dimension with a published mean and spread.
struct PopulationDimension {
  Measure measure = Measure::face_width;
  double mean_mm = 0;
  double sd_mm = 0;    ///< of both sexes together where the sex is open
  std::string source;  ///< key, and how sure
};

struct FacePopulation {
  std::string words;  ///< such as `adult women`
  bool children = false;
  bool older_than_surveyed = false;  ///< the age asked for lies above that of the surveys
  std::vector<PopulationDimension> dimensions;
  Eigen::MatrixXd covariance;  ///< of the dimensions, in their order [mm2]
};

/// Adults from `face-models/targets.json`; from 2 to below 18 years from
/// `geometry/data/child-dimensions.json`, in a straight line between ages, with the correlations of
/// adults (assumed).
///
/// Of both sexes: mean = (f + m)/2, cov_jk = r_jk (s_fj s_fk + s_mj s_mk)/2 + (m_j - f_j)
/// (m_k - f_k)/4.
/// @throws InputError below 2 years, with the reason
[[nodiscard]] FacePopulation face_population(const PopulationQuery& query);

}  // namespace rimload
