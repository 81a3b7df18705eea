// What was seen at the bedside beside what was foreseen, as a table and in words.
#pragma once

#include <string>

#include "fit/update.hpp"

namespace rimload {

struct SeenReport {
  const Estimate& estimate;  ///< as the case is taken
  const SeenUpdate& update;
};

/// `seen.csv`: a row a value with 10, 50 and 90 % before and after: at the case's setting, then at
/// each observation with what was seen and the verdict. The rows `seals_share` and `draws` give one
/// number before and one after, under p50.
[[nodiscard]] std::string seen_csv(const SeenReport& report);

/// The same in at most 25 lines, injuries and contradictions first. Where the face contradicts the
/// model only the bands before are given.
[[nodiscard]] std::string seen_finding(const SeenReport& report);

}  // namespace rimload
