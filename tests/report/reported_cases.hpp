// The demonstration cases and thirty drawn at random, fitted once for all tests of the report.
#pragma once

#include <string>
#include <vector>

#include "fit/estimate.hpp"

namespace rimload {

struct ReportedCase {
  std::string what;  ///< name of the demonstration case, or the random case's JSON
  Estimate estimate;
};

/// Demonstration cases first. Random ones: face, cushion, settings, straps, posture, answers, skin,
/// placement, from a fixed seed.
const std::vector<ReportedCase>& reported_cases();

/// Every question answered so that it stops, much injured skin, the longest name.
const Estimate& most_cautious();

}  // namespace rimload
